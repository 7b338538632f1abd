import { describe, expect, it } from 'vitest'
import { present } from '../../src/base/assert.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { locate } from '../../src/locate/locate.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import { nextActions } from '../../src/locate/next/next.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { NextAction } from '../../src/model/answers.ts'
import type { JointKind } from '../../src/model/schema/jointKind.ts'
import type { Kit } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { rowSite } from '../locate/rowSite.ts'
import {
  barName,
  barSite,
  foundOtherwise,
  preparedSite,
  readingId,
  runToEnd,
  withVisit,
  type Read,
} from './barSite.ts'

/*
 * Half-splitting a chain, common practice of fault finding: one fault among n links that are alike, readings that say
 * on which side of a place it is. A reading with two outcomes cannot tell n places apart in fewer than ⌈log₂ n⌉ in the
 * worst case (a binary tree with n leaves), and halving what is left needs no more.
 *
 * Here the program's own first advice is taken again and again, looks left aside, on a chain whose first reading, end
 * to end, showed that something is open. Readings have no error; the program knows nothing of that and allows for
 * broken leads, poor contacts and false lows. It names a joint when the first group has one joint and over half of
 * the probability. Asserted, not counting the first reading: no more than ⌈log₂ n⌉ + 1, and the bad joint is named.
 * The one more is because advice goes by bits per minute, and a shorter way may be worth an uneven split.
 */
const link: JointKind = {
  id: 'link',
  name: 'link',
  purpose: 'relied',
  medianOhm: 0.001,
  lnSpread: 0.3,
  defectRate: 0.02,
  source: '',
}

/** Bound, resolution and gain far below what a joint's ohms scatter by. */
const precise: Kit = {
  id: 'precise',
  name: '',
  serial: '',
  method: 'fourWire',
  testCurrentA: 10,
  resolutionOhm: 1e-6,
  gainError: 1e-4,
  digits: 1,
  mostOhm: 2000,
  calibrationDue: null,
  lastCheck: null,
}

interface Chain {
  readonly site: Site
  readonly ends: readonly [string, string]
  /** Joints in order, counted from 1. */
  jointAt(place: number): string
}

function barChain(n: number): Chain {
  const joints = Array.from({ length: n }, (_, k) => ({ from: k, to: k + 1, kind: 'link' }))
  const ends = [barName(0), barName(n)] as const
  return { site: barSite(n + 1, joints, [link]), ends, jointAt: (place) => `J${place}` }
}

/** A row of tables that hang together by jumpers, and through soil by their posts. */
function tableRow(n: number): Chain {
  const site = rowSite((drawing) => ({
    ...drawing,
    conductors: [],
    electrodes: [],
    earthBars: [],
    rows: [{ ...drawing.rows[0], runs: [{ firstTable: 1, count: n + 1, type: 'small' }], nextTable: n + 2 }],
  }))
  const ends = ['R1/T1/L1.1', `R1/T${n + 1}/L1.5`] as const
  return { site, ends, jointAt: (place) => `R1/T${place}+T${place + 1}~1` }
}

interface Advice {
  readonly named: string | null
  readonly action: NextAction | undefined
}

/** What is advised after some readings; asked once for each course that they may take. */
function advisor({ site }: Chain): (readings: readonly Read[]) => Advice {
  const prepared = preparedSite(site)
  const cache = emptyLocateCache()
  const given = new Map<string, Advice>()
  const ask = (readings: readonly Read[]): Advice => {
    const visited = withVisit(site, precise, null, readings)
    const [first] = runToEnd(locate(visited, prepared, cache)).groups
    if (first?.jointCount === 1 && first.probability > 0.5)
      return { named: first.joints[0].joint, action: undefined }
    const { actions } = runToEnd(nextActions(visited, prepared, cache))
    return { named: null, action: actions.find(({ kind }) => kind === 'pair' || kind === 'repeat') }
  }
  return (readings) => {
    const key = JSON.stringify(readings)
    const advice = given.get(key) ?? ask(readings)
    given.set(key, advice)
    return advice
  }
}

/** Readings after the first until a joint is named, and the joint; null where the advice is to leave off before. */
function follow(
  { site, ends }: Chain,
  advise: ReturnType<typeof advisor>,
  bad: string,
): { readings: number; named: string | null } {
  const { network, solver } = preparedSite(foundOtherwise(site, [{ form: 'jointAbsent', joint: bad }]))
  const nodeOf = (part: string) => partIndexOf(network.index, present(parsePartAddress(part), part))
  const readings: Read[] = []
  const read = (from: string, to: string, repeats?: number) => {
    const ohm = pairResistance(solver.factor, nodeOf(from), nodeOf(to))
    const minute = 2 * (readings.length + 1)
    readings.push({ from, to, minute, repeats, ohm: ohm > precise.mostOhm ? null : ohm })
  }
  read(...ends)
  for (;;) {
    const { named, action } = advise(readings)
    if (!action || readings.length > 20) return { readings: readings.length - 1, named }
    const again = readings.findIndex((_, k) => readingId(k) === action.entry)
    read(present(action.from, 'from'), present(action.to, 'to'), again < 0 ? undefined : again)
  }
}

/** Follows the advice for each of the places; every time the bad joint is named, and the counts come back. */
function followEach(chain: Chain, places: readonly number[]): number[] {
  const advise = advisor(chain)
  return places.map((place) => {
    const bad = chain.jointAt(place)
    const { readings, named } = follow(chain, advise, bad)
    expect(named).toBe(bad)
    return readings
  })
}

const halvings = (n: number) => Math.ceil(Math.log2(n))

describe('following the advice along a chain with one open joint', () => {
  it.each([2, 4, 7, 8])('%i joints, each of them in turn', (n) => {
    const counts = followEach(
      barChain(n),
      Array.from({ length: n }, (_, k) => k + 1),
    )
    expect(Math.max(...counts)).toBeLessThanOrEqual(halvings(n) + 1)
    // two outcomes each, and every place was named: no tree is less deep
    expect(Math.max(...counts)).toBeGreaterThanOrEqual(halvings(n))
  })

  it.each([
    [16, [1, 11, 16]],
    [32, [1, 25]],
    [64, [58]],
  ])('%i joints, some of them', (n, places) => {
    for (const readings of followEach(barChain(n), places))
      expect(readings).toBeLessThanOrEqual(halvings(n) + 1)
  })

  // metal and soil together: where a reading says how much metal is left on either side, it says more than two
  // outcomes do, so that there is no least number
  it.each([
    [7, [1, 4]],
    [15, [14]],
  ])('a row of tables with %i jumpers', (n, places) => {
    for (const readings of followEach(tableRow(n), places))
      expect(readings).toBeLessThanOrEqual(halvings(n) + 1)
  })
})
