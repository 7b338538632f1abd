import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../src/base/random.ts'
import { randomStream } from '../../src/base/random.ts'
import { settleSet } from '../../src/network/jointSet.ts'
import { SET_PIVOT_TRUST } from '../../src/network/tolerances.ts'
import { solve } from '../outside/solvedNetwork.ts'
import { graphOf } from './patchedNetworks.ts'

const ROWS = 6
const LENGTH = 20
const EARTH = 2 * ROWS * LENGTH
const at = (row: number, k: number, rail: number) => 2 * (row * LENGTH + k) + rail

/** Ladders joined to each other at both ends, a pile to remote earth at every fifth rung. */
function pileField(random: RandomStream, metalS: number, soilS: number) {
  const edges: [number, number][] = []
  const conductanceS: number[] = []
  const add = (u: number, v: number, g: number) => {
    edges.push([u, v])
    conductanceS.push(g * Math.exp(0.5 * random.normal()))
  }
  for (let row = 0; row < ROWS; row++) {
    for (let k = 0; k < LENGTH; k++) {
      add(at(row, k, 0), at(row, k, 1), metalS)
      for (const rail of [0, 1]) if (k > 0) add(at(row, k - 1, rail), at(row, k, rail), metalS)
      if (k % 5 === 0) add(at(row, k, 0), EARTH, soilS)
      if (row > 0 && (k === 0 || k === LENGTH - 1)) add(at(row - 1, k, 0), at(row, k, 0), metalS)
    }
  }
  return { edges, conductanceS: Float64Array.from(conductanceS) }
}

describe('a set that opens both rails in two places', () => {
  // The piece between hangs in the soil, or nowhere. The network built anew is solved by sums of positive terms,
  // good to 1e-13 at any range of conductances, so the difference is the kernel's.
  it.each([
    [1e3, 1e-1, 1e-9],
    [1e4, 1e-1, 1e-8],
    [1e5, 1e-2, 1e-6],
    [1e5, 1e-3, 1e-5],
    [1e6, 1e-4, 1e-3],
  ])(
    'in metal of %d S on soil of %d S is right to the digits that its pivots promise',
    (metalS, soilS, bound) => {
      let hanging = 0
      let floating = 0
      for (let seed = 0; seed < 12; seed++) {
        const random = randomStream(1300 + seed)
        const { edges, conductanceS } = pileField(random, metalS, soilS)
        const found = solve(graphOf(EARTH + 1, edges), conductanceS)
        for (let trial = 0; trial < 8; trial++) {
          const row = random.integer(ROWS)
          const first = 1 + random.integer(LENGTH - 2)
          const second = first + 1 + random.integer(LENGTH - 1 - first)
          const members = [first, second].flatMap((k) =>
            [0, 1].map((rail) =>
              edges.findIndex(([u, v]) => u === at(row, k - 1, rail) && v === at(row, k, rail)),
            ),
          )
          const open = new Float64Array(4).fill(Infinity)
          const read = found.withSet(members, open)
          const { pivotShare } = settleSet(found.setKernel(Int32Array.from(members)), open)
          const kept = [...edges.keys()].filter((e) => !members.includes(e))
          const after = solve(
            graphOf(
              EARTH + 1,
              kept.map((e) => edges[e]),
            ),
            Float64Array.from(kept, (e) => conductanceS[e]),
          )
          for (let pair = 0; pair < 40; pair++) {
            const a = pair < 20 ? at(row, first, 0) : random.integer(EARTH)
            const b = random.integer(EARTH)
            if (a === b) continue
            const expected = after.resistance(a, b)
            if (expected === Infinity) {
              expect(read(a, b)).toBe(Infinity)
              floating++
              continue
            }
            const error = Math.abs(read(a, b) / expected - 1)
            expect(error).toBeLessThan(bound)
            expect(error).toBeLessThan(3e-14 / pivotShare)
            if (pivotShare < 0.01) hanging++
            if (pivotShare > SET_PIVOT_TRUST) expect(error).toBeLessThan(3e-6)
          }
        }
      }
      expect(hanging).toBeGreaterThan(100)
      expect(floating).toBeGreaterThan(100)
    },
  )
})
