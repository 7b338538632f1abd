import { present } from '../../src/base/assert.ts'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { compareReadings } from '../../src/compare/compareReadings.ts'
import type { ComparedReading, ComparisonAnswer } from '../../src/model/comparison.ts'
import type { Kit } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawTruth, type Planted } from '../generator/drawTruth.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { planOf } from '../generator/planOf.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { fourWireKit, longLead, twoWireKit } from '../generator/testKits.ts'
import { prepare, rowSite } from '../locate/rowSite.ts'

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
    about: {
      startsAt: '2026-05-04T08:00:00Z',
      party: [],
      purpose: '',
      weather: '',
      ambientC: 15,
      isolation: '',
      inverter: 'off',
      isolators: 'open',
      lockOut: '',
    },
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
