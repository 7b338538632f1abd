import { parsePartAddress } from './address.ts'
import type { Renaming } from './readdress.ts'
import { readdressJoint, readdressPart } from './readdress.ts'
import type { Drawing } from './schema/drawing.ts'
import type { AsBuilt } from './schema/equipment.ts'

/**
 * The drawing with every address in it that has another name written by that name; what has none stays as it is, and
 * lists in which nothing changes keep their identity. The record is no part of the drawing. O(stored addresses).
 */
export function readdressDrawing(drawing: Drawing, naming: Renaming): Drawing {
  const part = (text: string) => readdressPart(text, naming) ?? text
  const joint = (text: string) => readdressJoint(text, naming) ?? text
  const anyAddress = (text: string) => (parsePartAddress(text) ? part(text) : joint(text))
  return {
    ...drawing,
    conductors: each(drawing.conductors, (conductor) => {
      const points = each(conductor.points, (point) => {
        const to = point.landing && part(point.landing.part)
        if (!point.landing || to === null || to === point.landing.part) return point
        return { ...point, landing: { ...point.landing, part: to } }
      })
      return points === conductor.points ? conductor : { ...conductor, points }
    }),
    extraJoints: each(drawing.extraJoints, (extra) =>
      changed(extra, { from: part(extra.from), to: part(extra.to) }),
    ),
    differingJoints: each(drawing.differingJoints, (differing) =>
      changed(differing, { joint: joint(differing.joint) }),
    ),
    asBuilt: each(drawing.asBuilt, (difference) =>
      changed(difference, { found: readdressFound(difference.found, part, joint, anyAddress) }),
    ),
    plans: each(drawing.plans, (plan) => {
      const pairs = each(plan.pairs, (pair) => changed(pair, { from: part(pair.from), to: part(pair.to) }))
      return changed(plan, { pairs })
    }),
    sources: each(drawing.sources, (source) =>
      source.form === 'ac' && source.returnPart !== null
        ? changed(source, { returnPart: part(source.returnPart) })
        : source,
    ),
    lessons: each(drawing.lessons, (lesson) => {
      const steps = each(lesson.steps, (step) =>
        changed(step, { about: step.about === null ? null : anyAddress(step.about) }),
      )
      return changed(lesson, { steps })
    }),
  }
}

type Rewrite = (text: string) => string

function readdressFound(
  found: AsBuilt['found'],
  part: Rewrite,
  joint: Rewrite,
  anyAddress: Rewrite,
): AsBuilt['found'] {
  switch (found.form) {
    case 'jointAbsent':
    case 'jointOther':
      return changed(found, { joint: joint(found.joint) })
    case 'jointAdded':
      return changed(found, { from: part(found.from), to: part(found.to) })
    case 'other':
      return changed(found, { about: anyAddress(found.about) })
  }
}

function each<T>(items: readonly T[], change: (item: T) => T): readonly T[] {
  const made = items.map(change)
  return made.some((item, k) => item !== items[k]) ? made : items
}

function changed<T extends object>(item: T, changes: NoInfer<Partial<T>>): T {
  const keys = Object.keys(changes) as (keyof T)[]
  return keys.every((key) => item[key] === changes[key]) ? item : { ...item, ...changes }
}
