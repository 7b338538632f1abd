import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fewPoints } from '../../src/walk/cover.ts'
import { setUpsOf, turnSingles } from '../../src/walk/setUps.ts'

type Edges = readonly (readonly [number, number])[]

const points = 10
const anyEdges: fc.Arbitrary<Edges> = fc
  .array(fc.tuple(fc.integer({ min: 0, max: points - 1 }), fc.integer({ min: 0, max: points - 1 })), {
    minLength: 1,
    maxLength: 16,
  })
  .map((edges) => edges.filter(([a, b]) => a !== b))

const ends = (edges: Edges) =>
  [Int32Array.from(edges, ([a]) => a), Int32Array.from(edges, ([, b]) => b)] as const

const sizeOf = (cover: Uint8Array) => cover.reduce((sum, is) => sum + is, 0)

function leastCover(edges: Edges): number {
  let least = points
  for (let set = 0; set < 1 << points; set++) {
    if (!edges.every(([a, b]) => set & (1 << a) || set & (1 << b))) continue
    let size = 0
    for (let p = 0; p < points; p++) size += (set >> p) & 1
    least = Math.min(least, size)
  }
  return least
}

const path = (count: number): Edges => Array.from({ length: count }, (_, k) => [k, k + 1])

describe('few first clips', () => {
  it('have every pair at an end; none can be left out; seldom more than the fewest', () => {
    let [found, fewest] = [0, 0]
    fc.assert(
      fc.property(anyEdges, (edges) => {
        const cover = fewPoints(points, ...ends(edges))
        expect(edges.every(([a, b]) => cover[a] === 1 || cover[b] === 1)).toBe(true)
        for (let p = 0; p < points; p++) {
          if (cover[p] === 0) continue
          expect(edges.some(([a, b]) => (a === p && cover[b] === 0) || (b === p && cover[a] === 0))).toBe(
            true,
          )
        }
        found += sizeOf(cover)
        fewest += leastCover(edges)
      }),
      { numRuns: 300, seed: 11 },
    )
    expect(found / fewest).toBeLessThan(1.03)
  })

  it('are the fewest on paths, stars, rings and trees', () => {
    expect(sizeOf(fewPoints(8, ...ends(path(7))))).toBe(4)
    expect(sizeOf(fewPoints(7, ...ends(path(6))))).toBe(3)
    expect(sizeOf(fewPoints(6, ...ends([1, 2, 3, 4, 5].map((k) => [k, 0] as const))))).toBe(1)
    expect(sizeOf(fewPoints(7, ...ends([...path(6), [6, 0]])))).toBe(4)
    // two stars joined by an edge
    expect(
      sizeOf(
        fewPoints(
          6,
          ...ends([
            [0, 1],
            [0, 2],
            [0, 3],
            [3, 4],
            [3, 5],
          ]),
        ),
      ),
    ).toBe(2)
  })
})

describe('set-ups', () => {
  it('hold each pair once, with its own two ends', () => {
    fc.assert(
      fc.property(anyEdges, (edges) => {
        const [from, to] = ends(edges)
        const setUps = setUpsOf(points, from, to, (a, b) => Math.abs(a - b))
        const all = setUps.flatMap(({ pairs }) => pairs)
        expect([...all].sort((a, b) => a - b)).toEqual([...edges.keys()])
        for (const { at, pairs, far } of setUps) {
          expect(pairs.length).toBeGreaterThan(0)
          pairs.forEach((pair, k) => {
            expect([at, far[k]].sort((a, b) => a - b)).toEqual([...edges[pair]].sort((a, b) => a - b))
          })
        }
      }),
    )
  })

  it('a pair between two first clips goes where its far end is on the way', () => {
    // 0 has 1 and 2 beside it, 9 has nothing near 0 but itself: the pair 0–9 is walked from 9, which has 8 at 1 m from 0
    const at = [0, 40, 41, 0, 0, 0, 0, 45, 1, 50]
    const edges: Edges = [
      [0, 1],
      [0, 2],
      [9, 7],
      [9, 8],
      [0, 9],
    ]
    const setUps = setUpsOf(points, ...ends(edges), (a, b) => Math.abs(at[a] - at[b]))
    expect(setUps.map(({ at, pairs }) => ({ at, pairs }))).toEqual([
      { at: 0, pairs: [0, 1] },
      { at: 9, pairs: [2, 3, 4] },
    ])
  })
})

describe('set-ups of one pair', () => {
  it('have the first clip at the ends that make the way shortest, by trying all', () => {
    const anyPlaces = fc.array(fc.integer({ min: 0, max: 50 }), { minLength: 12, maxLength: 12 })
    fc.assert(
      fc.property(anyPlaces, fc.integer({ min: 1, max: 6 }), (place, count) => {
        const distanceM = (a: number, b: number) => Math.abs(place[a] - place[b])
        // the last one has two pairs: it stays as it is
        const setUps = Array.from({ length: count }, (_, k) => ({
          at: 2 * k,
          pairs: k === count - 1 ? [k, 99] : [k],
          far: k === count - 1 ? [2 * k + 1, 0] : [2 * k + 1],
        }))
        const order = Int32Array.from({ length: count }, (_, k) => count - 1 - k)
        const wayM = (of: readonly { readonly at: number }[]) => {
          let sumM = 0
          for (let s = 1; s < count; s++) sumM += distanceM(of[order[s - 1]].at, of[order[s]].at)
          return sumM
        }
        let leastM = Infinity
        for (let choice = 0; choice < 1 << (count - 1); choice++) {
          leastM = Math.min(leastM, wayM(setUps.map(({ at }, k) => ({ at: at + ((choice >> k) & 1) }))))
        }
        const turned = turnSingles(setUps, order, distanceM)
        expect(wayM(turned)).toBe(leastM)
        turned.forEach(({ at, pairs, far }, k) => {
          expect(pairs).toBe(setUps[k].pairs)
          if (far.length === 1) expect([at, far[0]].sort((a, b) => a - b)).toEqual([2 * k, 2 * k + 1])
        })
        expect(turned[count - 1]).toBe(setUps[count - 1])
      }),
    )
  })
})
