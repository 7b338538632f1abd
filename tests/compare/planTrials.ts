import { present } from '../../src/base/assert.ts'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { compareReadings } from '../../src/compare/compareReadings.ts'
import type { ComparedReading, ComparisonAnswer } from '../../src/model/comparison.ts'
import type { Entry, EntryOf, Kit } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawTruth, type Planted } from '../generator/drawTruth.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { planOf } from '../generator/planOf.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { fourWireKit, longLead, twoWireKit } from '../generator/testKits.ts'
import { prepare, rowSite, uuid } from '../locate/rowSite.ts'

export const site: Site = rowSite()
export const prepared = prepare(site)
const network = drawnNetwork(site.drawing)

/** Set-ups: from a table's first frame to further frames of the same table, and to frames of the next one. */
function setUps(perKind: number) {
  type Pairs = readonly (readonly [string, string])[]
  const tables = [1, 2].flatMap((row) => [1, 2, 3, 4, 5].map((table) => ({ row, table })))
  const inTable: Pairs = tables.flatMap(({ row, table }) =>
    [2, 3, 4].map((across) => [`R${row}/T${table}/F1.1`, `R${row}/T${table}/F1.${across}`] as const),
  )
  const next: Pairs = tables.flatMap(({ row, table }) =>
    [1, 2, 3].map(
      (across) => [`R${row}/T${table}/L1.${across}`, `R${row}/T${table + 1}/L1.${across}`] as const,
    ),
  )
  const toBar: Pairs = tables.flatMap(({ row, table }) =>
    [1, 2, 3].map((across) => ['B1', `R${row}/T${table}/F2.${across}`] as const),
  )
  return [inTable, next, toBar]
    .flatMap((pairs) => pairs.slice(0, perKind))
    .map(([from, to]) => ({ from, to: [to] }))
}

const about = {
  startsAt: '2026-05-04T08:00:00Z',
  party: [],
  purpose: '',
  weather: '',
  ambientC: 15,
  isolation: '',
  inverter: 'off',
  isolators: 'open',
  lockOut: '',
} as const

export interface Trial {
  readonly perKind: number
  readonly kit: 'twoWire' | 'fourWire'
  /** Ohms on top of one pair's reading, by its number in the plan. */
  readonly forced?: ReadonlyMap<number, number>
  readonly planted?: Planted
}

/** One visit of a sound array but for what is forced or planted, and what the comparison makes of it. */
export function trial(seed: number, { perKind, kit, forced = new Map(), planted = {} }: Trial) {
  const random = randomStream(seed)
  const plan = planOf('p', 'p', '', setUps(perKind))
  const used: Kit = kit === 'twoWire' ? { ...twoWireKit, resolutionOhm: 0.001, digits: 2 } : fourWireKit
  const record = takeVisit({
    truth: drawTruth(network, random, planted),
    plan,
    kit: used,
    lead: kit === 'twoWire' ? longLead : null,
    random,
    about,
    contacts: forced,
  })
  const answer = wholly(compareReadings({ ...site, record }, prepared))
  const readings = record.filter(({ entry }) => entry === 'reading')
  return {
    record,
    answer,
    /** What is said of the reading of a pair, by its number in the plan. */
    of: (pair: number) => comparedIn(answer).get(present(readings[pair - 1], 'a reading of the pair').id),
  }
}

export function comparedIn({
  groups,
}: Pick<ComparisonAnswer, 'groups'>): ReadonlyMap<string, ComparedReading> {
  return new Map(groups.flatMap(({ readings }) => readings.map((reading) => [reading.entry, reading])))
}

/**
 * A sound two-wire visit from the bar to all tables of both rows, with a lead that is nulled to nothing once before each
 * half of the paths: whatever else the readings share is planted.
 */
export function soundVisit(seed: number): {
  readonly record: readonly Entry[]
  readonly nullings: readonly EntryOf<'nulling'>[]
} {
  const random = randomStream(seed)
  const ends = [1, 2].flatMap((row) =>
    [1, 2, 3, 4, 5].flatMap((table) => [1, 2, 3, 4].map((across) => `R${row}/T${table}/F2.${across}`)),
  )
  // in turns, so that either half has paths of every length
  const halves = [0, 1].map((half) => ends.filter((_, k) => k % 2 === half))
  const kit: Kit = { ...twoWireKit, resolutionOhm: 0.001, digits: 2 }
  const plan = planOf('p', 'p', '', [
    { from: 'B1', to: halves[0] },
    { from: 'R1/T1/F1.1', to: ['R1/T1/F1.2'] },
    { from: 'B1', to: halves[1] },
  ])
  const truth = drawTruth(network, random, {})
  const taken = takeVisit({ truth, plan, kit, lead: null, random, about, contacts: new Map() })
  const nullings: EntryOf<'nulling'>[] = []
  const record = taken.flatMap((entry): Entry[] => {
    if (entry.entry === 'visit') return [{ ...entry, leads: [longLead] }]
    if (entry.entry === 'reading') return [{ ...entry, lead: longLead.id }]
    if (entry.entry !== 'volts' || entry.from !== 'B1') return [entry]
    const { counter, at, visit } = entry
    const stamp = { id: uuid(80_000 + nullings.length), device: uuid(79_999), counter, at, visit }
    nullings.push({ ...stamp, entry: 'nulling', kit: kit.id, lead: longLead.id, leadC: null, note: '' })
    return [nullings[nullings.length - 1], entry]
  })
  return { record, nullings }
}
