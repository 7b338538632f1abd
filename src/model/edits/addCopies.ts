import { countJoints, countParts } from '../countJoints.ts'
import { labelCounter } from '../countedLabel.ts'
import type { BySort, DrawnSort } from '../drawnItem.ts'
import { drawnOfSort, drawnSorts, listOfSort } from '../drawnItem.ts'
import type { Fragment } from '../fragment.ts'
import { fragmentLists } from '../fragment.ts'
import { limits } from '../limits.ts'
import type { Motion } from '../motion.ts'
import { movedThing } from '../movedThings.ts'
import { jointExists } from '../presence.ts'
import { parseJointAddress } from '../address.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import { findTable, tableCount } from '../queries/tablePosition.ts'
import type { Renaming } from '../readdress.ts'
import { readdressJoint, readdressPart } from '../readdress.ts'
import { numberedAfresh } from '../runs.ts'
import { releaseLost } from './releaseLost.ts'
import type { Drawing, NextIds } from '../schema/drawing.ts'
import type { DifferingJoint } from '../schema/equipment.ts'

/** Points of paths that one edit may add: a file with more could not be opened again. */
const mostPoints = Math.floor(limits.fileValues / 4)

/**
 * Why so many copies cannot be added; null when they can. By arithmetic, before any copy is made. The checks of
 * `commitDrawing` come after it.
 */
export function tooManyCopies(drawing: Drawing, fragment: Fragment, times: number): Problem | null {
  if (!Number.isInteger(times) || times < 1) {
    const facts = { expected: 'a whole number, at least 1', found: String(times) }
    return problem('value.outOfRange', facts, { path: ['times'] })
  }
  for (const name of fragmentLists) {
    const found = drawing[name].length + times * fragment[name].length
    const most = name === 'rows' ? limits.rows : limits.items
    if (fragment[name].length > 0 && found > most) {
      const facts = { what: `items in ${name}`, found, most }
      return problem('size.tooMany', facts, { path: ['drawing', name] })
    }
  }
  const alone: Drawing = { ...drawing, ...fragment, asBuilt: [] }
  const where = { path: ['drawing', 'rows'] }
  const joints = countJoints(drawing) + times * countJoints(alone)
  if (joints > limits.joints) return problem('size.tooManyJoints', { joints, most: limits.joints }, where)
  const parts = countParts(drawing) + times * countParts(alone)
  const facts = { what: 'parts', found: parts, most: limits.parts }
  if (parts > limits.parts) return problem('size.tooMany', facts, where)
  const points = times * countPoints(fragment)
  if (points > mostPoints) {
    return problem('size.tooMany', { what: 'points of paths', found: points, most: mostPoints })
  }
  return null
}

function countPoints({ conductors, electrodes, aisles, obstacles }: Fragment): number {
  let points = 0
  for (const conductor of conductors) points += conductor.points.length
  for (const electrode of electrodes) points += electrode.form === 'strip' ? electrode.pathM.length : 1
  for (const { pathM } of aisles) points += pathM.length
  for (const { outlineM } of obstacles) points += outlineM.length
  return points
}

/**
 * The drawing with one copy of the fragment for each motion, with ids, labels and addresses of their own: tables are
 * numbered afresh along their row and points along their conductor, nothing is painted on a copied table, and
 * a copied electrode has no measured resistance. What hangs on the copies (landings, extra joints, joints
 * that differ) is copied with them. O(copies made).
 */
export function addCopies(drawing: Drawing, fragment: Fragment, motions: readonly Motion[]): Drawing {
  const nextIds: Counters = { ...drawing.nextIds }
  const copies = drawnSorts.map((sort) => copyingOfSort(drawing, fragment, sort))
  const extraJoints = [...drawing.extraJoints]
  const labelOfJoint = labelCounter(extraJoints.map(({ label }) => label))
  const differing: DifferingJoint[] = []
  for (const motion of motions) {
    const naming = namingOf(fragment, takeIds(fragment, nextIds))
    for (const copy of copies) copy.add(motion, naming)
    for (const old of fragment.extraJoints) {
      const from = readdressPart(old.from, naming)
      const to = readdressPart(old.to, naming)
      if (from === null || to === null) continue
      extraJoints.push({ ...old, id: nextIds.extraJoint++, label: labelOfJoint(old.label), from, to })
    }
    for (const old of fragment.differingJoints) {
      const joint = readdressJoint(old.joint, naming)
      if (joint !== null) differing.push({ ...old, joint })
    }
  }
  const lists = Object.fromEntries(copies.map(({ name, all }) => [name, all]))
  const hasJoints = extraJoints.length > drawing.extraJoints.length
  const grown = releaseLost({ ...drawing, nextIds, ...lists, ...(hasJoints && { extraJoints }) })
  // A copied conductor may have let the landing go whose lug differs, or on which another landed.
  const there = differing.filter(({ joint }) => jointExists(grown, parseJointAddress(joint)!))
  return there.length === 0 ? grown : { ...grown, differingJoints: [...drawing.differingJoints, ...there] }
}

type Counters = { -readonly [K in keyof NextIds]: number }

interface Copying {
  readonly name: (typeof listOfSort)[DrawnSort]
  /** What there was and all copies; the list of the drawing itself where there are none. */
  readonly all: readonly unknown[]
  readonly add: (motion: Motion, naming: Renaming) => void
}

function copyingOfSort<S extends DrawnSort>(drawing: Drawing, fragment: Fragment, sort: S): Copying {
  const old = drawnOfSort(drawing, sort)
  const copied = drawnOfSort(fragment, sort).map((thing) => freshThing(thing))
  const labelOf = labelCounter(old.flatMap((thing) => ('label' in thing ? [thing.label] : [])))
  const all: BySort[DrawnSort][] = [...old]
  const add = (motion: Motion, naming: Renaming) => {
    for (const thing of copied) {
      const label = 'label' in thing ? { label: labelOf(thing.label) } : null
      const placed = landedAnew(movedThing(sort, thing, motion), naming)
      all.push({ ...placed, id: naming.idOf(sort, thing.id)!, ...label })
    }
  }
  return { name: listOfSort[sort], all: copied.length === 0 ? old : all, add }
}

/** What all copies of a thing have alike, so that a thousand copies of a row share their runs. */
function freshThing<T extends BySort[DrawnSort]>(thing: T): T {
  if ('runs' in thing) {
    const runs = numberedAfresh(thing.runs)
    return { ...thing, runs, nextTable: tableCount(thing) + 1, tableLabels: {} }
  }
  return 'measuredOhm' in thing ? { ...thing, measuredOhm: null } : thing
}

/** The points of a conductor numbered from 1, each landing on what has been copied with it. */
function landedAnew<T extends BySort[DrawnSort]>(thing: T, naming: Renaming): T {
  if (!('points' in thing)) return thing
  const points = thing.points.map(({ atM, landing }, k) => {
    const part = landing && readdressPart(landing.part, naming)
    return { id: k + 1, atM, landing: landing && part !== null ? { ...landing, part } : null }
  })
  return { ...thing, points, nextPoint: points.length + 1 }
}

type IdMaps = Readonly<Record<DrawnSort, ReadonlyMap<number, number>>>

function takeIds(fragment: Fragment, nextIds: Counters): IdMaps {
  const idsOf = (sort: DrawnSort) =>
    new Map(drawnOfSort(fragment, sort).map(({ id }) => [id, nextIds[sort]++]))
  return {
    row: idsOf('row'),
    enclosure: idsOf('enclosure'),
    earthBar: idsOf('earthBar'),
    electrode: idsOf('electrode'),
    conductor: idsOf('conductor'),
    aisle: idsOf('aisle'),
    obstacle: idsOf('obstacle'),
  }
}

/** Tables by their place in the row, points by their place along the conductor, both from 1. */
function namingOf(fragment: Fragment, ids: IdMaps): Renaming {
  return {
    idOf: (sort, id) => ids[sort].get(id) ?? null,
    tableOf: (rowId, table) => {
      const row = byId(fragment.rows).get(rowId)
      const placed = row && findTable(row, table)
      return placed ? placed.position + 1 : null
    },
    pointOf: (id, point) => {
      const at =
        byId(fragment.conductors)
          .get(id)
          ?.points.findIndex((one) => one.id === point) ?? -1
      return at < 0 ? null : at + 1
    },
  }
}
