import { assert, present } from '../../src/base/assert.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { locate } from '../../src/locate/locate.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { LocateAnswer } from '../../src/model/answers.ts'
import { defaultKits } from '../../src/model/kits.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { Entry, EntryOf, Kit, Lead } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { compileNetwork } from '../../src/network/compile.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'

/*
 * Two rows of six small tables (2 high x 4), one jumper in each gap, posts in soil. A bare conductor joins
 * the west ends of both rows to the earth bar B1 and a rod.
 *
 *   R2  T1 - T2 - T3 - T4 - T5 - T6
 *       |
 *   R1  T1 - T2 - T3 - T4 - T5 - T6
 *       |
 *       B1 - G1
 */
const smallTable: TableType = {
  id: 'small',
  name: 'small table',
  mounting: 'fixedTilt',
  tiltDeg: 20,
  modules: {
    high: 2,
    across: 4,
    longSideM: 2,
    shortSideM: 1,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0.02,
  },
  longMembers: [0.4, 1.6, 2.4, 3.6].map((upM, k) => ({
    carries: [k < 2 ? 1 : 2],
    upM,
    material: 'galvanised-steel',
    areaMm2: 600,
    spliceAfter: [],
  })),
  crossMembers: { stations: [2, 4], bracketKind: 'bracket' },
  posts: {
    stations: [2, 4],
    lines: 1,
    support: 'fixed',
    bondKinds: ['bracket'],
    soil: { buriedM: 1.5, diameterM: 0.12 },
  },
  frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
}

export const uuid = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`

export const longLead: Lead = { id: 'long', name: 'spool', lengthM: 50, areaMm2: 1.5, material: 'copper' }
export const kitA: Kit = { ...present(defaultKits[0], 'a first kit'), id: 'a', mostOhm: 2000 }
export const kitB: Kit = { ...present(defaultKits[1], 'a second kit'), id: 'b' }

export function rowSite(change: (drawing: Site['drawing']) => Site['drawing'] = (d) => d): Site {
  const site = newSite({ id: uuid(1), revision: uuid(2), name: 'two rows', units: 'metric' })
  const row = (id: number, y: number): Site['drawing']['rows'][number] => ({
    id,
    label: '',
    originM: { x: 0, y },
    bearingDeg: 90,
    gapM: 0.5,
    runs: [{ firstTable: 1, count: 6, type: 'small' }],
    nextTable: 7,
    links: { count: 1, kind: 'jumper' },
    tableLabels: {},
  })
  const at = (x: number, y: number) => ({ x, y })
  const landing = (part: string, kind: string) => ({ part, kind })
  const drawing: Site['drawing'] = {
    ...site.drawing,
    nextIds: { ...site.drawing.nextIds, row: 3, earthBar: 2, electrode: 2, conductor: 2 },
    tableTypes: [smallTable],
    rows: [row(1, 0), row(2, 8)],
    earthBars: [{ id: 1, label: 'main bar', atM: at(-2, -2) }],
    electrodes: [
      { id: 1, label: '', measuredOhm: null, form: 'rod', atM: at(-3, -2), lengthM: 2.4, diameterM: 0.016 },
    ],
    conductors: [
      {
        id: 1,
        label: 'main bonding conductor',
        material: 'copper',
        areaMm2: 35,
        size: null,
        closed: false,
        points: [
          { id: 1, atM: at(-3, -2), landing: landing('G1', 'rodClamp') },
          { id: 2, atM: at(-2, -2), landing: landing('B1', 'crimpLug') },
          { id: 3, atM: at(-1, 0), landing: landing('R1/T1/L1.1', 'layInLug') },
          { id: 4, atM: at(-1, 8), landing: landing('R2/T1/L1.1', 'layInLug') },
        ],
        nextPoint: 5,
        lengthM: null,
      },
    ],
  }
  return { ...site, drawing: change(drawing) }
}

export interface Taken {
  readonly from: string
  readonly to: string
  /** Null: over range. */
  readonly ohm: number | null
  readonly repeats?: number
  readonly kit?: 'a' | 'b'
  readonly surface?: 'bare' | 'coated'
}

/** Adds a visit with one nulling and the readings, a minute apart; reading k has the id uuid(100 + k). */
export function withReadings(
  site: Site,
  taken: readonly Taken[],
  more: readonly Entry[] = [],
  nulled = true,
): Site {
  const identity = (n: number, minute: number) => ({
    id: uuid(n),
    device: uuid(3),
    counter: n,
    at: new Date(Date.UTC(2031, 4, 4, 8, minute)).toISOString(),
  })
  const visit: EntryOf<'visit'> = {
    ...identity(10, 0),
    entry: 'visit',
    party: [],
    purpose: '',
    kits: [kitA, kitB],
    leads: [longLead],
    weather: '',
    ambientC: null,
    isolation: '',
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  }
  const nulling: EntryOf<'nulling'> = {
    ...identity(11, 1),
    entry: 'nulling',
    visit: visit.id,
    kit: 'a',
    lead: 'long',
    leadC: null,
    note: '',
  }
  const readings = taken.map((t, k): EntryOf<'reading'> => ({
    ...identity(100 + k, 2 + k),
    entry: 'reading',
    visit: visit.id,
    method: t.kit === 'b' ? 'fourWire' : 'twoWire',
    kit: t.kit ?? 'a',
    lead: t.kit === 'b' ? null : 'long',
    from: { part: t.from, spot: 'cutEdge', surface: t.surface ?? 'bare' },
    to: { part: t.to, spot: 'cutEdge', surface: t.surface ?? 'bare' },
    around: null,
    result: t.ohm === null ? { form: 'over', atLeastOhm: 2000 } : { form: 'ohm', ohm: t.ohm },
    reverseOhm: null,
    unsteady: null,
    testCurrentA: null,
    metalC: null,
    trackerDeg: null,
    repeats: t.repeats === undefined ? null : uuid(100 + t.repeats),
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    photos: [],
    note: '',
  }))
  return { ...site, record: [visit, ...(nulled ? [nulling] : []), ...readings, ...more] }
}

export function finish<T>(job: Generator<unknown, T>): T {
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}

export function prepare(site: Site): PreparedNetwork {
  const index = indexSite(site.drawing)
  assert(index.ok, 'the test site can be indexed')
  const network = finish(compileNetwork(site.drawing, index.value, { countIncidental: true, asBuilt: true }))
  assert(network.ok, `the test site compiles: ${JSON.stringify(network)}`)
  return finish(prepareNetwork(network.value))
}

/** Node of a part that the test names. */
export function partOf({ network }: PreparedNetwork, text: string): number {
  const address = present(parsePartAddress(text), `${text} is an address`)
  return partIndexOf(network.index, address)
}

export function locateIn(site: Site): LocateAnswer {
  return finish(locate(site, prepare(site)))
}

/** Star of each row from the first table's lower member to the same member of the others. */
export function starOfRows(ohm: (row: number, table: number) => number | null): Taken[] {
  return [1, 2].flatMap((row) =>
    [2, 3, 4, 5, 6].map((table) => ({
      from: `R${row}/T1/L1.3`,
      to: `R${row}/T${table}/L1.3`,
      ohm: ohm(row, table),
    })),
  )
}
