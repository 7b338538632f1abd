import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { mutualPerM } from '../../src/network/buriedPieces.ts'
import { hemisphereOhm, mutualRodOhm } from '../../src/network/electrodeOhm.ts'
import { mostInMesh } from '../../src/network/soilNetwork.ts'
import { aloneReads, coupled, matrixReads, networkReads, piecesOf, post, postRows } from './soilField.ts'
import type { PlacedRod } from './soilField.ts'

const rod = { lengthM: 2.4, radiusM: 0.008 }

function scattered(seed: number, count: number, sideM: number): PlacedRod[] {
  const random = randomStream(seed)
  return Array.from({ length: count }, () => ({
    x: sideM * random.uniform(),
    y: sideM * random.uniform(),
    lengthM: 1 + 2 * random.uniform(),
    radiusM: 0.01 + 0.05 * random.uniform(),
  }))
}

/** Relative errors of the network's two readings against the dense matrix. */
function errors(
  rods: readonly PlacedRod[],
  isApart: (k: number) => boolean,
  rowPitchM: number | null = null,
): { total: number; between: number } {
  const apart = rods.map((_, k) => isApart(k))
  const reads = networkReads(coupled(piecesOf(rods, rowPitchM)), apart)
  const true_ = matrixReads(rods, apart)
  return { total: reads.total / true_.total - 1, between: reads.between / true_.between - 1 }
}

describe('few electrodes, every pair with its branch', () => {
  it('is the dense matrix itself', () => {
    for (const spacing of [0.1, 0.5, 1, 3, 10, 100]) {
      const pair = [0, spacing].map((x) => ({ x, y: 0, ...rod }))
      const { total, between } = errors(pair, (k) => k === 1)
      expect(Math.abs(total)).toBeLessThan(1e-5)
      expect(Math.abs(between)).toBeLessThan(1e-5)
    }
    for (const seed of [1, 2, 3]) {
      const { total, between } = errors(scattered(seed, 40, 60), (k) => k % 3 === 0)
      expect(Math.abs(total)).toBeLessThan(1e-3)
      expect(Math.abs(between)).toBeLessThan(1e-3)
    }
  })
})

describe('many electrodes, against the dense matrix', () => {
  const fields = [
    { rows: 7, posts: 60, rowM: 6, postM: 3 },
    { rows: 2, posts: 60, rowM: 6, postM: 3 },
    { rows: 20, posts: 20, rowM: 6, postM: 3 },
    { rows: 10, posts: 40, rowM: 11, postM: 4.6 },
    { rows: 6, posts: 32, rowM: 6.5, postM: 2.5 },
    { rows: 5, posts: 80, rowM: 5, postM: 2 },
  ]
  for (const { rows, posts, rowM, postM } of fields) {
    const field = postRows(rows, posts, rowM, postM)
    const rowOf = (k: number) => Math.floor(k / posts)
    const placeOf = (k: number) => k % posts
    const middle = rows >> 1
    const name = `${rows} rows of ${posts} posts, ${rowM} m and ${postM} m apart`
    const cutOff: [string, (k: number) => boolean][] = [
      ['the first row', (k) => rowOf(k) === 0],
      ['the second row', (k) => rowOf(k) === 1],
      ['the middle row', (k) => rowOf(k) === middle],
      ['eight posts in the middle', (k) => rowOf(k) === middle && Math.abs(placeOf(k) - posts / 2) < 4],
      ['eight posts at a corner', (k) => rowOf(k) === 0 && placeOf(k) < 8],
      ['one post', (k) => rowOf(k) === middle && placeOf(k) === posts >> 1],
      ['one half of the rows', (k) => rowOf(k) >= middle],
      ['one end of all rows', (k) => placeOf(k) >= posts / 3],
    ]
    it(`${name}: all together within 1 %, what is cut off against the rest within 8 %`, () => {
      for (const [what, isApart] of cutOff) {
        const { total, between } = errors(field, isApart, rowM)
        expect(Math.abs(total), what).toBeLessThan(0.01)
        expect(Math.abs(between), what).toBeLessThan(0.08)
      }
    })

    it(`${name}: a rod beside the row within 11 %`, () => {
      for (const awayM of [0.3, 0.5, 1, 3, 10]) {
        const loose = [...field, { x: (posts >> 1) * postM + 0.7, y: -awayM, ...rod }]
        const { total, between } = errors(loose, (k) => k === field.length, rowM)
        expect(Math.abs(total), `${awayM} m`).toBeLessThan(0.01)
        expect(Math.abs(between), `${awayM} m`).toBeLessThan(0.11)
      }
    })
  }

  it('rods scattered at random: all together within 1 %, parts within 6 %', () => {
    for (const [seed, count, sideM] of [
      [4, 120, 50],
      [5, 120, 200],
      [6, 300, 60],
      [7, 200, 1000],
    ]) {
      const rods = scattered(seed, count, sideM)
      for (const isApart of [
        (k: number) => rods[k].x > sideM / 2,
        (k: number) => k === 3,
        (k: number) => k % 2 === 0,
      ]) {
        const { total, between } = errors(rods, isApart)
        expect(Math.abs(total), `${count} in ${sideM}`).toBeLessThan(0.01)
        expect(Math.abs(between), `${count} in ${sideM}`).toBeLessThan(0.06)
      }
    }
  })

  it('does not depend on where the site lies on the plan, nor on the order of its electrodes', () => {
    const rods = scattered(8, 150, 60)
    const total = networkReads(
      coupled(piecesOf(rods)),
      rods.map(() => false),
    ).total
    const moved = rods.map((each) => ({ ...each, x: each.x + 4096, y: each.y - 2048 }))
    expect(
      networkReads(
        coupled(piecesOf(moved)),
        rods.map(() => false),
      ).total / total,
    ).toBeCloseTo(1, 9)
    const turned = [...rods].reverse()
    expect(
      networkReads(
        coupled(piecesOf(turned)),
        rods.map(() => false),
      ).total / total,
    ).toBeCloseTo(1, 2)
  })
})

describe('in any field', () => {
  const anyField = fc.record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    count: fc.integer({ min: 2, max: 160 }),
    sideM: fc.double({ min: 0.5, max: 800, noNaN: true }),
  })

  it('all branches are positive and finite, whatever overlaps; each alone reads what it reads alone', () => {
    fc.assert(
      fc.property(anyField, ({ seed, count, sideM }) => {
        const rods = scattered(seed, count, sideM)
        rods[1] = { ...rods[0] }
        const pieces = piecesOf(rods)
        const soil = coupled(pieces)
        for (const ohm of [...soil.perM, ...soil.ownPerM]) {
          expect(ohm > 0 && ohm < Infinity).toBe(true)
        }
        for (const k of [0, count - 1]) {
          expect(Math.abs(aloneReads(soil, k) / pieces.alonePerM[k] - 1)).toBeLessThan(0.02)
        }
      }),
      { seed: 11, numRuns: 60 },
    )
  })

  it('another electrode never raises the field by more than the network is out, 1.5 %', () => {
    fc.assert(
      fc.property(anyField, ({ seed, count, sideM }) => {
        const rods = scattered(seed, count, sideM)
        const all = networkReads(
          coupled(piecesOf(rods)),
          rods.map(() => false),
        ).total
        const fewer = rods.slice(1)
        const without = networkReads(
          coupled(piecesOf(fewer)),
          fewer.map(() => false),
        ).total
        expect(all).toBeLessThan(without * 1.015)
      }),
      { seed: 12, numRuns: 40 },
    )
  })

  it('two electrodes in one place are one', () => {
    const pair = [0, 0].map((x) => ({ x, y: 0, ...rod }))
    const pieces = piecesOf(pair)
    const { total } = networkReads(coupled(pieces), [false, false])
    expect(total / pieces.alonePerM[0]).toBeGreaterThan(0.97)
    expect(total / pieces.alonePerM[0]).toBeLessThan(1)
  })

  it('one that was measured far below its form keeps what was measured', () => {
    for (const aloneOhm of [0.004, 0.02, 3]) {
      const field = [...postRows(4, 40, 6, 3), { x: 20, y: 9, ...rod }]
      const pieces = piecesOf(field, 6)
      const alonePerM = pieces.alonePerM.slice()
      alonePerM[160] = aloneOhm
      const soil = coupled({ ...pieces, alonePerM, selfPerM: alonePerM })
      expect(Math.abs(aloneReads(soil, 160) / aloneOhm - 1)).toBeLessThan(0.02)
      expect(Math.min(...soil.perM, ...soil.ownPerM)).toBeGreaterThan(0)
    }
  })

  it('no distance is cut off: a wide field of few rods still shares soil', () => {
    const rods = Array.from({ length: 100 }, (_, k) => ({
      x: (k % 10) * 200,
      y: Math.floor(k / 10) * 200,
      ...rod,
    }))
    const isApart = rods.map(() => false)
    const { total } = networkReads(coupled(piecesOf(rods)), isApart)
    expect(rods.length).toBeGreaterThan(mostInMesh)
    expect(Math.abs(total / matrixReads(rods, isApart).total - 1)).toBeLessThan(0.002)
    expect(total).toBeGreaterThan((1.05 * piecesOf(rods).alonePerM[0]) / 100)
  })
})

describe('mutualPerM', () => {
  it('is that of upright rods, and bounded by the better of the two', () => {
    const pieces = piecesOf([
      { x: 0, y: 0, ...rod },
      { x: 3, y: 4, ...post },
    ])
    expect(mutualPerM(pieces, 0, 1)).toBeCloseTo(mutualRodOhm(rod, post, 5, 1), 12)
    const low = { ...pieces, selfPerM: Float64Array.of(0.01, 0.3) }
    expect(mutualPerM(low, 0, 1)).toBeCloseTo(0.0095, 12)
    expect(hemisphereOhm(5, 1)).toBeGreaterThan(mutualPerM(pieces, 0, 1))
  })
})
