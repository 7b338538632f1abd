import { parseJointAddress, parsePartAddress } from '../address.ts'
import { jointExists, partExists } from '../presence.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Entry } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'

export interface StoredAddress {
  readonly text: string
  readonly path: readonly (string | number)[]
  /** The record entry that holds it. */
  readonly entry?: string
}

function addressesOfEntry(entry: Entry): readonly (readonly [string, ...string[]])[] {
  switch (entry.entry) {
    case 'volts':
      return [
        [entry.from, 'from'],
        [entry.to, 'to'],
      ]
    case 'reading': {
      const ends: [string, ...string[]][] = [
        [entry.from.part, 'from', 'part'],
        [entry.to.part, 'to', 'part'],
      ]
      return entry.around === null ? ends : [...ends, [entry.around, 'around']]
    }
    case 'correction': {
      const ends: [string, ...string[]][] = []
      if (entry.from) ends.push([entry.from.part, 'from', 'part'])
      if (entry.to) ends.push([entry.to.part, 'to', 'part'])
      return ends
    }
    case 'look':
    case 'repair':
      return [[entry.joint, 'joint']]
    case 'note':
      return entry.about === null ? [] : [[entry.about, 'about']]
    default:
      return []
  }
}

function* addressesOfDrawing(drawing: Drawing): Generator<StoredAddress> {
  for (const [c, conductor] of drawing.conductors.entries()) {
    for (const [p, { landing }] of conductor.points.entries()) {
      const path = ['drawing', 'conductors', c, 'points', p, 'landing', 'part']
      if (landing) yield { text: landing.part, path }
    }
  }
  for (const [k, { from, to }] of drawing.extraJoints.entries()) {
    yield { text: from, path: ['drawing', 'extraJoints', k, 'from'] }
    yield { text: to, path: ['drawing', 'extraJoints', k, 'to'] }
  }
  for (const [k, { joint }] of drawing.differingJoints.entries()) {
    yield { text: joint, path: ['drawing', 'differingJoints', k, 'joint'] }
  }
  for (const [k, { found }] of drawing.asBuilt.entries()) {
    for (const key of ['joint', 'from', 'to', 'about'] as const) {
      const text = (found as Partial<Record<typeof key, string>>)[key]
      if (text !== undefined) yield { text, path: ['drawing', 'asBuilt', k, 'found', key] }
    }
  }
  for (const [k, { pairs }] of drawing.plans.entries()) {
    for (const [p, { from, to }] of pairs.entries()) {
      yield { text: from, path: ['drawing', 'plans', k, 'pairs', p, 'from'] }
      yield { text: to, path: ['drawing', 'plans', k, 'pairs', p, 'to'] }
    }
  }
  for (const [k, source] of drawing.sources.entries()) {
    if (source.form !== 'ac' || source.returnPart === null) continue
    yield { text: source.returnPart, path: ['drawing', 'sources', k, 'returnPart'] }
  }
  for (const [k, { steps }] of drawing.lessons.entries()) {
    for (const [s, { about }] of steps.entries()) {
      if (about !== null) yield { text: about, path: ['drawing', 'lessons', k, 'steps', s, 'about'] }
    }
  }
}

/** Every address that a site stores, with its place, the drawing's first. */
export function* storedAddresses(site: Site): Generator<StoredAddress> {
  yield* addressesOfDrawing(site.drawing)
  for (const [k, entry] of site.record.entries()) {
    for (const [text, ...keys] of addressesOfEntry(entry)) {
      yield { text, path: ['record', k, ...keys], entry: entry.id }
    }
  }
}

/** Whether a stored address, of a part or of a joint, names something in the drawing. */
export function addressExists(drawing: Drawing, text: string): boolean {
  const part = parsePartAddress(text)
  if (part) return partExists(drawing, part)
  const joint = parseJointAddress(text)
  return joint !== null && jointExists(drawing, joint)
}
