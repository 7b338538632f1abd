import fc from 'fast-check'
import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import {
  coupledElectrodesOhm,
  coupledGroupsOhm,
  electrodeMatrixOhm,
  hemisphereOhm,
  maxCoupledElectrodes,
  mutualRodOhm,
  rodOhm,
} from '../../src/network/electrodeOhm.ts'
import type { ElectrodeField } from '../../src/network/electrodeOhm.ts'

const fixed = { seed: 36, numRuns: 200 }
const relative = (a: number, b: number) => Math.abs(a / b - 1)

const anyRod = fc
  .record({
    lengthM: fc.double({ min: 0.5, max: 30, noNaN: true }),
    slenderness: fc.double({ min: 5, max: 2000, noNaN: true }),
  })
  .map(({ lengthM, slenderness }) => ({ lengthM, radiusM: lengthM / slenderness }))
const anySoil = fc.double({ min: 1, max: 10_000, noNaN: true })

function fieldOf(
  rods: readonly { x: number; y: number; lengthM: number; radiusM: number }[],
): ElectrodeField {
  return {
    xM: Float64Array.from(rods, (rod) => rod.x),
    yM: Float64Array.from(rods, (rod) => rod.y),
    lengthM: Float64Array.from(rods, (rod) => rod.lengthM),
    radiusM: Float64Array.from(rods, (rod) => rod.radiusM),
  }
}

/** Rods of mixed length and thickness, thrown at random and kept where they do not touch one already there. */
function randomRods(seed: number, count: number, sideM: number) {
  const random = randomStream(seed)
  const rods: { x: number; y: number; lengthM: number; radiusM: number }[] = []
  while (rods.length < count) {
    const lengthM = 0.8 + 5 * random.uniform()
    const radiusM = 0.006 + 0.1 * random.uniform()
    const rod = { x: sideM * random.uniform(), y: sideM * random.uniform(), lengthM, radiusM }
    const free = rods.every(
      (other) => Math.hypot(rod.x - other.x, rod.y - other.y) >= radiusM + other.radiusM,
    )
    if (free) rods.push(rod)
  }
  return rods
}

function valueOf<T>(result: { ok: true; value: T } | { ok: false }): T {
  if (!result.ok) throw new Error('electrodes overlap')
  return result.value
}

describe('rodOhm', () => {
  it('keeps the values it had', () => {
    const inch = 0.0254
    expect(rodOhm({ lengthM: 120 * inch, radiusM: (5 / 16) * inch }, 100)).toBeCloseTo(33.0891, 4)
    expect(rodOhm({ lengthM: 96 * inch, radiusM: (5 / 16) * inch }, 100)).toBeCloseTo(39.9049, 4)
    expect(rodOhm({ lengthM: 3, radiusM: 0.008 }, 100)).toBeCloseTo(33.4927, 4)
  })

  it('is proportional to soil, falls with length and with radius, and scales with size', () => {
    fc.assert(
      fc.property(anyRod, anySoil, ({ lengthM, radiusM }, soil) => {
        const ohm = rodOhm({ lengthM, radiusM }, soil)
        expect(relative(rodOhm({ lengthM, radiusM }, 2 * soil), 2 * ohm)).toBeLessThan(1e-12)
        expect(relative(rodOhm({ lengthM: 2 * lengthM, radiusM: 2 * radiusM }, soil), ohm / 2)).toBeLessThan(
          1e-12,
        )
        expect(rodOhm({ lengthM: 1.01 * lengthM, radiusM }, soil)).toBeLessThan(ohm)
        expect(rodOhm({ lengthM, radiusM: 0.99 * radiusM }, soil)).toBeGreaterThan(ohm)
      }),
      fixed,
    )
  })

  it('lies above the half sphere that holds the whole rod, which has to be the better electrode', () => {
    fc.assert(
      fc.property(anyRod, anySoil, (rod, soil) => {
        expect(rodOhm(rod, soil)).toBeGreaterThan(hemisphereOhm(Math.hypot(rod.lengthM, rod.radiusM), soil))
      }),
      fixed,
    )
  })

  it('refuses what is no rod and what is no soil', () => {
    for (const bad of [0, -1, NaN, Infinity]) {
      expect(() => rodOhm({ lengthM: bad, radiusM: 0.01 }, 100)).toThrow('m long')
      expect(() => rodOhm({ lengthM: 2, radiusM: bad }, 100)).toThrow('radius')
      expect(() => rodOhm({ lengthM: 2, radiusM: 0.01 }, bad)).toThrow('resistivity')
      expect(() => hemisphereOhm(bad, 100)).toThrow('radius')
      expect(() => hemisphereOhm(1, bad)).toThrow('resistivity')
    }
    // 4L/a = e is where the bracket reaches zero
    expect(() => rodOhm({ lengthM: 1, radiusM: 4 / Math.E + 1e-9 }, 100)).toThrow('is no rod')
    expect(rodOhm({ lengthM: 1, radiusM: 4 / Math.E - 1e-3 }, 100)).toBeGreaterThan(0)
  })
})

describe('hemisphereOhm', () => {
  it('is ρ/(2πa)', () => {
    expect(hemisphereOhm(0.5, 100)).toBeCloseTo(31.830988618, 9)
  })
})

describe('mutualRodOhm', () => {
  it('is the mean of 1/r and its image over both rods, equal or not', () => {
    // a plain double sum over both rods, the mirror of the second above the surface
    const summed = (first: number, second: number, d: number, soil: number) => {
      const n = 400
      let sum = 0
      for (let i = 0; i < n; i++) {
        const z = ((i + 0.5) / n) * first
        for (let j = 0; j < n; j++) {
          const w = ((j + 0.5) / n) * second
          sum += 1 / Math.hypot(d, z - w) + 1 / Math.hypot(d, z + w)
        }
      }
      return (soil / (4 * Math.PI)) * (sum / (n * n))
    }
    for (const [first, second, d] of [
      [3, 3, 1],
      [3, 3, 20],
      [2, 5, 0.5],
      [1, 6, 3],
    ]) {
      const ohm = mutualRodOhm({ lengthM: first, radiusM: 0.01 }, { lengthM: second, radiusM: 0.02 }, d, 70)
      // midpoint sums at steps of 1/30 of the spacing or less are good to some 1e-4
      expect(relative(ohm, summed(first, second, d, 70)), `${first} ${second} ${d}`).toBeLessThan(3e-4)
    }
  })

  it('is the closed form of equal rods', () => {
    const [L, d, soil] = [2.5, 1.7, 120]
    const bracket = Math.asinh((2 * L) / d) - Math.sqrt(1 + (d / (2 * L)) ** 2) + d / (2 * L)
    const rod = { lengthM: L, radiusM: 0.01 }
    expect(mutualRodOhm(rod, rod, d, soil)).toBeCloseTo((soil / (2 * Math.PI * L)) * bracket, 11)
  })

  it('becomes the own resistance at a distance of one radius or less, approached without a jump', () => {
    fc.assert(
      fc.property(anyRod, anySoil, (rod, soil) => {
        const own = rodOhm(rod, soil)
        expect(mutualRodOhm(rod, rod, rod.radiusM, soil)).toBeCloseTo(own, 9)
        expect(mutualRodOhm(rod, rod, 0, soil)).toBeCloseTo(own, 9)
        // what the formula has beyond Dwight's at d = a is a/(2L) in the bracket
        const bracket = Math.log((4 * rod.lengthM) / rod.radiusM) - 1
        const above = mutualRodOhm(rod, rod, 2 * rod.radiusM, soil) / own
        expect(above).toBeLessThan(1)
        expect(above).toBeGreaterThan((bracket - Math.LN2) / bracket)
      }),
      fixed,
    )
  })

  it('counts a distance below the larger radius as that radius, for unequal rods too', () => {
    const rod = { lengthM: 6, radiusM: 0.01 }
    const post = { lengthM: 1.5, radiusM: 0.2 }
    const touching = mutualRodOhm(rod, post, 0.2, 100)
    expect(mutualRodOhm(rod, post, 0.1, 100)).toBe(touching)
    expect(mutualRodOhm(rod, post, 0, 100)).toBe(touching)
    expect(mutualRodOhm(rod, post, 0.21, 100)).toBeLessThan(touching)
    expect(touching).toBeLessThan(0.99 * Math.sqrt(rodOhm(rod, 100) * rodOhm(post, 100)))
  })

  it('tends to ρ/(2πd) far away, from below, with all its digits', () => {
    const rod = { lengthM: 2, radiusM: 0.01 }
    const post = { lengthM: 5, radiusM: 0.1 }
    for (const d of [100, 1e3, 1e4, 1e6]) {
      for (const [first, second] of [
        [rod, rod],
        [rod, post],
      ]) {
        const ratio = mutualRodOhm(first, second, d, 100) / hemisphereOhm(d, 100)
        // the next term is −(L₁² + L₂²)/(6d²)
        const next = (first.lengthM ** 2 + second.lengthM ** 2) / (6 * d * d)
        expect(Math.abs(1 - next - ratio)).toBeLessThan(next * next * 10 + 1e-14)
      }
    }
  })

  it('is the same both ways, falls with distance and never exceeds the geometric mean of the own values', () => {
    const distance = fc.double({ min: 0, max: 300, noNaN: true })
    fc.assert(
      fc.property(anyRod, anyRod, distance, anySoil, (first, second, d, soil) => {
        const ohm = mutualRodOhm(first, second, d, soil)
        expect(relative(mutualRodOhm(second, first, d, soil), ohm)).toBeLessThan(1e-12)
        const limit = Math.sqrt(rodOhm(first, soil) * rodOhm(second, soil))
        expect(ohm).toBeGreaterThan(0)
        expect(ohm).toBeLessThanOrEqual(limit * (1 + 1e-12))
        expect(mutualRodOhm(first, second, 1.1 * d + 0.1, soil)).toBeLessThanOrEqual(ohm * (1 + 1e-12))
      }),
      fixed,
    )
  })

  it('refuses a distance that is none', () => {
    const rod = { lengthM: 2, radiusM: 0.01 }
    for (const bad of [-1, NaN, Infinity]) expect(() => mutualRodOhm(rod, rod, bad, 100)).toThrow('apart')
  })
})

describe('electrodeMatrixOhm', () => {
  it('holds own values on the diagonal and mutual ones off it', () => {
    const rods = randomRods(1, 12, 8)
    const matrix = valueOf(electrodeMatrixOhm(fieldOf(rods), 80))
    rods.forEach((first, i) => {
      expect(matrix[i * 12 + i]).toBeCloseTo(rodOhm(first, 80), 10)
      rods.forEach((second, j) => {
        const d = Math.hypot(first.x - second.x, first.y - second.y)
        if (i !== j) expect(matrix[i * 12 + j]).toBeCloseTo(mutualRodOhm(first, second, d, 80), 10)
      })
    })
  })

  it('is symmetric and positive definite, however tightly mixed rods stand', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const n = 30
      const matrix = valueOf(electrodeMatrixOhm(fieldOf(randomRods(seed, n, 1.5 + seed)), 50))
      const rows = new Matrix(Array.from({ length: n }, (_, i) => [...matrix.subarray(i * n, (i + 1) * n)]))
      expect(rows.isSymmetric()).toBe(true)
      const values = new EigenvalueDecomposition(rows, { assumeSymmetric: true }).realEigenvalues
      expect(Math.min(...values), `seed ${seed}`).toBeGreaterThan(0)
    }
  })

  it('is positive definite for rods that touch in a bundle', () => {
    const bundle = Array.from({ length: 25 }, (_, i) => ({
      x: 0.1 * (i % 5),
      y: 0.1 * Math.floor(i / 5),
      lengthM: 3,
      radiusM: 0.0499999,
    }))
    const together = valueOf(coupledElectrodesOhm(fieldOf(bundle), 100))
    // A square bar acts as a circle of 0.59 of its side (conformal map). The bundle fits into a square of 0.5 m
    // and its outer axes stand on one of 0.4 m.
    expect(together).toBeGreaterThan(rodOhm({ lengthM: 3, radiusM: 0.59 * 0.5 }, 100))
    expect(together).toBeLessThan(rodOhm({ lengthM: 3, radiusM: 0.59 * 0.4 }, 100))
  })

  it('names the pair that stands in one another', () => {
    const rods = [0, 5, 10, 5.05].map((x) => ({ x, y: 0, lengthM: 2, radiusM: 0.03 }))
    expect(electrodeMatrixOhm(fieldOf(rods), 100)).toEqual({ ok: false, error: { first: 1, second: 3 } })
    expect(coupledElectrodesOhm(fieldOf(rods), 100)).toEqual({ ok: false, error: { first: 1, second: 3 } })
  })

  it('refuses more electrodes than a dense matrix is meant for, and half-given ones', () => {
    const row = (count: number) =>
      fieldOf(Array.from({ length: count }, (_, i) => ({ x: i, y: 0, lengthM: 2, radiusM: 0.01 })))
    expect(() => coupledElectrodesOhm(row(maxCoupledElectrodes + 1), 100)).toThrow('501 coupled electrodes')
    expect(coupledElectrodesOhm(row(maxCoupledElectrodes), 100).ok).toBe(true)
    expect(() => electrodeMatrixOhm({ ...row(3), yM: new Float64Array(2) }, 100)).toThrow('lists every')
    expect(() => electrodeMatrixOhm({ ...row(3), xM: Float64Array.of(0, NaN, 2) }, 100)).toThrow(
      'no distance',
    )
    expect(() => electrodeMatrixOhm(row(3), 0)).toThrow('resistivity')
    expect(() => coupledElectrodesOhm(row(0), 100)).toThrow('is empty')
  })
})

describe('coupledElectrodesOhm', () => {
  it('of one rod is that rod, of two equal ones half of own plus mutual', () => {
    const rod = { lengthM: 3, radiusM: 0.008 }
    expect(valueOf(coupledElectrodesOhm(fieldOf([{ x: 7, y: -2, ...rod }]), 100))).toBeCloseTo(
      rodOhm(rod, 100),
      12,
    )
    const two = [
      { x: 0, y: 0, ...rod },
      { x: 3, y: 4, ...rod },
    ]
    const expected = (rodOhm(rod, 100) + mutualRodOhm(rod, rod, 5, 100)) / 2
    expect(valueOf(coupledElectrodesOhm(fieldOf(two), 100))).toBeCloseTo(expected, 12)
  })

  it('lies between electrodes in parallel without coupling and the best single one, and tends to the former', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const rods = randomRods(seed, 20, 20)
      const parallel = 1 / rods.reduce((sum, rod) => sum + 1 / rodOhm(rod, 60), 0)
      const best = Math.min(...rods.map((rod) => rodOhm(rod, 60)))
      const group = valueOf(coupledElectrodesOhm(fieldOf(rods), 60))
      expect(group).toBeGreaterThan(parallel)
      expect(group).toBeLessThan(best)
      const spread = rods.map((rod) => ({ ...rod, x: 1e6 * rod.x, y: 1e6 * rod.y }))
      expect(relative(valueOf(coupledElectrodesOhm(fieldOf(spread), 60)), parallel)).toBeLessThan(1e-4)
    }
  })

  it('never rises when an electrode is added, and does not depend on order or place', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const rods = randomRods(seed, 15, 6)
      let before = Infinity
      for (let count = 1; count <= rods.length; count++) {
        const now = valueOf(coupledElectrodesOhm(fieldOf(rods.slice(0, count)), 60))
        expect(now).toBeLessThan(before)
        before = now
      }
      const moved = [...rods].reverse().map((rod) => ({ ...rod, x: rod.y + 100, y: rod.x - 40 }))
      expect(relative(valueOf(coupledElectrodesOhm(fieldOf(moved), 60)), before)).toBeLessThan(1e-10)
    }
  })
})

describe('coupledGroupsOhm', () => {
  it('agrees with a plain matrix inverse', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const n = 24
      const k = 3
      const field = fieldOf(randomRods(seed, n, 10))
      const group = Int32Array.from({ length: n }, (_, i) => i % k)
      const matrix = valueOf(electrodeMatrixOhm(field, 90))
      const rows = new Matrix(Array.from({ length: n }, (_, i) => [...matrix.subarray(i * n, (i + 1) * n)]))
      const members = new Matrix(
        Array.from({ length: n }, (_, i) => [0, 1, 2].map((q) => (group[i] === q ? 1 : 0))),
      )
      const expected = inverse(members.transpose().mmul(inverse(rows)).mmul(members)).to1DArray()
      const found = valueOf(coupledGroupsOhm(field, group, k, 90))
      found.forEach((ohm, at) => expect(relative(ohm, expected[at])).toBeLessThan(1e-9))
    }
  })

  it('of single electrodes is the matrix itself', () => {
    const field = fieldOf(randomRods(4, 10, 10))
    const matrix = valueOf(electrodeMatrixOhm(field, 90))
    const found = valueOf(
      coupledGroupsOhm(
        field,
        Int32Array.from({ length: 10 }, (_, i) => i),
        10,
        90,
      ),
    )
    found.forEach((ohm, at) => expect(relative(ohm, matrix[at])).toBeLessThan(1e-9))
  })

  it('refuses groups that are empty or not there', () => {
    const field = fieldOf(randomRods(2, 4, 10))
    expect(() => coupledGroupsOhm(field, Int32Array.of(0, 0, 2, 2), 3, 90)).toThrow('group 1 is empty')
    expect(() => coupledGroupsOhm(field, Int32Array.of(0, 0, 1, 7), 2, 90)).toThrow('is in no group')
    expect(() => coupledGroupsOhm(field, Int32Array.of(0, 0), 1, 90)).toThrow('needs a group')
  })
})
