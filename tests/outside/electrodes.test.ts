import { describe, expect, it } from 'vitest'
import {
  coupledElectrodesOhm,
  coupledGroupsOhm,
  mutualRodOhm,
  rodOhm,
} from '../../src/network/electrodeOhm.ts'
import type { ElectrodeField, Rod } from '../../src/network/electrodeOhm.ts'

const inch = 0.0254
const foot = 0.3048

type Point = readonly [x: number, y: number]

function equalRods(points: readonly Point[], { lengthM, radiusM }: Rod): ElectrodeField {
  return {
    xM: Float64Array.from(points, ([x]) => x),
    yM: Float64Array.from(points, ([, y]) => y),
    lengthM: new Float64Array(points.length).fill(lengthM),
    radiusM: new Float64Array(points.length).fill(radiusM),
  }
}

function groupOhm(points: readonly Point[], rod: Rod, soilOhmM: number): number {
  const result = coupledElectrodesOhm(equalRods(points, rod), soilOhmM)
  if (!result.ok) throw new Error('electrodes overlap')
  return result.value
}

const line = (count: number, spacing: number): Point[] =>
  Array.from({ length: count }, (_, i) => [i * spacing, 0])

const ring = (count: number, spacing: number): Point[] => {
  const radius = spacing / (2 * Math.sin(Math.PI / count))
  const turn = (2 * Math.PI) / count
  return Array.from({ length: count }, (_, i) => [radius * Math.cos(turn * i), radius * Math.sin(turn * i)])
}

const hollowSquare = (count: number, spacing: number): Point[] => {
  const side = count / 4
  const steps = Array.from({ length: side }, (_, i) => i * spacing)
  const edge = side * spacing
  return steps.flatMap((u): Point[] => [
    [u, 0],
    [edge, u],
    [edge - u, edge],
    [0, edge - u],
  ])
}

/** `across` × `along` points, the one pitch along x and the other along y. */
const grid = (across: number, along: number, acrossM: number, alongM: number): Point[] =>
  Array.from({ length: across * along }, (_, i) => [(i % across) * acrossM, Math.floor(i / across) * alongM])

describe('single rods', () => {
  it('MIL-HDBK-419A (1987) Vol II §1.2.2.2: 10 ft × 3/4 in in 10 000 Ω·cm has 32 Ω', () => {
    // read off a nomograph to two figures
    expect(Math.abs(rodOhm({ lengthM: 10 * foot, radiusM: (3 / 8) * inch }, 100) - 32)).toBeLessThan(0.5)
  })

  it('IEEE Std 142 soil table (values from memory): 5/8 in × 10 ft in four soils has 8, 13, 52, 311 Ω', () => {
    const rod = { lengthM: 10 * foot, radiusM: (5 / 16) * inch }
    // the table prints whole ohms
    for (const [soilOhmM, ohm] of [
      [23.7, 8],
      [40.6, 13],
      [158, 52],
      [940, 311],
    ]) {
      expect(Math.abs(rodOhm(rod, soilOhmM) - ohm)).toBeLessThan(0.5)
    }
  })

  it('BS 7430 (value from memory) writes the same with the diameter: ρ/(2πL)·(ln(8L/d) − 1)', () => {
    const [L, d, soil] = [2.4, 0.016, 85]
    const ohm = (soil / (2 * Math.PI * L)) * (Math.log((8 * L) / d) - 1)
    expect(rodOhm({ lengthM: L, radiusM: d / 2 }, soil)).toBeCloseTo(ohm, 11)
  })
})

describe('two rods, the series of Dwight (1936) as IEEE Std 142 prints them (values from memory)', () => {
  const rod = { lengthM: 3, radiusM: 0.008 }
  const { lengthM: L, radiusM: a } = rod
  const own = Math.log((4 * L) / a) - 1
  const near = (s: number) => {
    const series = Math.log((4 * L) / s) - 1 + s / (2 * L) - s ** 2 / (16 * L ** 2) + s ** 4 / (512 * L ** 4)
    return (100 / (4 * Math.PI * L)) * (own + series)
  }
  const far = (s: number) => {
    const series = 1 - L ** 2 / (3 * s ** 2) + (2 * L ** 4) / (5 * s ** 4)
    return (100 / (4 * Math.PI * L)) * own + (100 / (4 * Math.PI * s)) * series
  }
  const pair = (s: number) => (rodOhm(rod, 100) + mutualRodOhm(rod, rod, s, 100)) / 2

  it('closer than a rod length the closed form sums the series', () => {
    for (const share of [0.05, 0.2, 0.5, 1]) {
      const s = share * L
      // the first term left out is −(s/2L)⁶/96 in the bracket, and the series alternates
      const left = (100 / (4 * Math.PI * L)) * ((s / (2 * L)) ** 6 / 90)
      expect(Math.abs(pair(s) - near(s)), `s = ${share} L`).toBeLessThan(left + 1e-9)
    }
  })

  it('further than two rod lengths the closed form sums the other series', () => {
    for (const share of [2, 3, 5, 10, 100]) {
      const s = share * L
      // the first term left out is −(5/7)(L/s)⁶, and the series alternates
      const left = (100 / (4 * Math.PI * s)) * (0.72 * (L / s) ** 6)
      expect(Math.abs(pair(s) - far(s)), `s = ${share} L`).toBeLessThan(left + 1e-9)
    }
  })

  it('at one rod length the far series is 3 % above the near one and the closed form sides with the near', () => {
    expect(far(L) / near(L) - 1).toBeGreaterThan(0.025)
    expect(far(L) / near(L) - 1).toBeLessThan(0.04)
    expect(Math.abs(pair(L) / near(L) - 1)).toBeLessThan(1e-4)
  })
})

describe('several rods', () => {
  const rod = { lengthM: 10 * foot, radiusM: (5 / 16) * inch }
  const factor = (points: readonly Point[]) => (groupOhm(points, rod, 100) * points.length) / rodOhm(rod, 100)

  it('IEEE Std 142-2007 Table 4-6: rods one length apart in a hollow figure, R = F·R1/n', () => {
    // The two-rod factor 1.16 is met by 1.130, 1.158 or 1.168 depending on which printed formula is used, and the
    // table says "line, triangle, circle or square" without telling which count stands how: 3.5 % low at most.
    // 2, 3 and 4 as published, 8 to 24 values from memory.
    for (const [points, published] of [
      [line(2, rod.lengthM), 1.16],
      [ring(3, rod.lengthM), 1.29],
      [hollowSquare(4, rod.lengthM), 1.36],
      [hollowSquare(8, rod.lengthM), 1.68],
      [hollowSquare(12, rod.lengthM), 1.8],
      [hollowSquare(16, rod.lengthM), 1.92],
      [hollowSquare(20, rod.lengthM), 2.0],
    ] as const) {
      const ratio = factor(points) / published
      expect(ratio, `${points.length} rods`).toBeGreaterThan(0.965)
      expect(ratio, `${points.length} rods`).toBeLessThan(1.01)
    }
    // 24 rods are printed as 2.16, twice the step of the row before: no hollow figure reaches it
    const ratio = factor(hollowSquare(24, rod.lengthM)) / 2.16
    expect(ratio).toBeGreaterThan(0.93)
    expect(ratio).toBeLessThan(1)
  })

  it('IEEE Std 142-2007 worked for a rod of 2.5 Ω: two, three, four rods have 1.45, 1.075, 0.85 Ω', () => {
    const soilOhmM = 2.5 / rodOhm(rod, 1)
    expect(Math.abs(groupOhm(line(2, rod.lengthM), rod, soilOhmM) / 1.45 - 1)).toBeLessThan(0.03)
    expect(Math.abs(groupOhm(ring(3, rod.lengthM), rod, soilOhmM) / 1.075 - 1)).toBeLessThan(0.03)
    expect(Math.abs(groupOhm(ring(4, rod.lengthM), rod, soilOhmM) / 0.85 - 1)).toBeLessThan(0.03)
  })

  it('BS 7430 (values from memory): rods in line, R/n·(1 + λρ/(2πRs))', () => {
    const lambda = [1.0, 1.66, 2.15, 2.54, 2.87, 3.15, 3.39, 3.61, 3.81]
    const single = rodOhm(rod, 100)
    lambda.forEach((value, i) => {
      const count = i + 2
      const spacing = 5 * rod.lengthM
      const published = (single / count) * (1 + (value * 100) / (2 * Math.PI * single * spacing))
      // it takes rods as points, which is 0.3 % high in the mutual part at five lengths, and λ to three figures
      expect(Math.abs(groupOhm(line(count, spacing), rod, 100) / published - 1), `${count}`).toBeLessThan(
        0.002,
      )
    })
  })

  it('MIL-HDBK-419A (1987) Vol II §1.2.2.2: 26 rods 20 ft apart have 5.5 % of one, 1.76 Ω', () => {
    const thick = { lengthM: 10 * foot, radiusM: (3 / 8) * inch }
    // read off a curve to two figures, which is ±1 %, of rods that stand in line or in a ring
    const inLine = groupOhm(line(26, 20 * foot), thick, 100)
    const inRing = groupOhm(ring(26, 20 * foot), thick, 100)
    expect(Math.abs(inLine / 1.76 - 1)).toBeLessThan(0.03)
    expect(inRing).toBeGreaterThan(inLine)
    expect(Math.abs(inRing / 1.76 - 1)).toBeLessThan(0.1)
    // without coupling it would be a third less
    expect(rodOhm(thick, 100) / 26 / 1.76).toBeLessThan(0.72)
  })
})

describe('a dense pile field', () => {
  const pile = { lengthM: 1.75, radiusM: 0.06 }
  const soil = 30
  // IEEE Std 80-2013, simplest form ρ/(4r) with πr² = A (value from memory); every pile stands for one cell
  const plate = (areaM2: number) => (soil / 4) * Math.sqrt(Math.PI / areaM2)

  it('20 × 20 piles: the coupled field is near the plate, without coupling several times lower', () => {
    const field = grid(20, 20, 3, 6)
    const areaM2 = 400 * 18
    const coupled = groupOhm(field, pile, soil)
    // The plate leaves out what the current pays to reach the single piles, so the field lies above it; the
    // term ρ/ΣL that Laurent and Niemann add (IEEE Std 80-2013, value from memory) is for buried wire that
    // does without the piles' depth, so it lies above the field.
    expect(coupled / plate(areaM2)).toBeGreaterThan(1)
    expect(coupled / plate(areaM2)).toBeLessThan(1.15)
    expect(coupled).toBeLessThan(plate(areaM2) + soil / (400 * pile.lengthM))
    expect(coupled / (rodOhm(pile, soil) / 400)).toBeGreaterThan(6)
  })

  it('more piles on the same 60 m × 60 m close in on the plate', () => {
    let before = Infinity
    for (const side of [2, 4, 6, 10, 14, 20, 22]) {
      const pitch = 60 / side
      const ratio = groupOhm(grid(side, side, pitch, pitch), pile, soil) / plate(3600)
      expect(ratio).toBeLessThan(before)
      before = ratio
    }
    // a square plate has 2 % less than the disc of its area and the piles reach into depth, so 5 % is kept
    expect(Math.abs(before - 1)).toBeLessThan(0.05)
  })
})

describe('what soil alone reads between two rows of sixty piles that no metal joins', () => {
  const sixty = 60
  const between = (rod: Rod, soil: number, pitchM: number, rowM: number) => {
    const field = equalRods(grid(sixty, 2, pitchM, rowM), rod)
    const row = Int32Array.from({ length: 2 * sixty }, (_, i) => Math.floor(i / sixty))
    const z = coupledGroupsOhm(field, row, 2, soil)
    if (!z.ok) throw new Error('piles overlap')
    const uncoupled = (2 * rodOhm(rod, soil)) / sixty
    return { ohm: z.value[0] + z.value[3] - 2 * z.value[1], uncoupled, rowToEarthOhm: z.value[0] }
  }

  // Computed here: no published figure for this arrangement is known.
  it('is a few tenths of an ohm in good soil', () => {
    for (const lengthM of [1.5, 1.75, 2]) {
      const { ohm } = between({ lengthM, radiusM: 0.06 }, 30, 3, 6)
      expect(ohm).toBeGreaterThan(0.2)
      expect(ohm).toBeLessThan(0.5)
    }
  })

  // Coupling acts twice: piles of one row crowd each other (more ohms), the rows' fields overlap (fewer).
  it('reads 0.39 Ω with piles 1.75 m deep every 3 m; leaving coupling out reads 13 % less', () => {
    const { ohm, uncoupled, rowToEarthOhm } = between({ lengthM: 1.75, radiusM: 0.06 }, 30, 3, 6)
    expect(ohm).toBeCloseTo(0.392, 3)
    expect(uncoupled / ohm).toBeCloseTo(0.872, 3)
    // one row alone is read twice as low without coupling, and two rows taken as strangers 83 % too high
    expect(rowToEarthOhm / (uncoupled / 2)).toBeCloseTo(2.096, 3)
    expect((2 * rowToEarthOhm) / ohm).toBeCloseTo(1.828, 3)
  })

  it('what leaving coupling out costs grows as piles crowd', () => {
    const share = (pitchM: number) => {
      const { ohm, uncoupled } = between({ lengthM: 1.75, radiusM: 0.06 }, 30, pitchM, 6)
      return uncoupled / ohm
    }
    expect(share(2)).toBeLessThan(0.75)
    expect(share(3)).toBeLessThan(0.9)
    expect(share(6)).toBeGreaterThan(share(3))
  })

  it('a row cut off from the six bonded rows around it reads two tenths of an ohm', () => {
    const rod = { lengthM: 1.75, radiusM: 0.06 }
    const field = equalRods(grid(sixty, 7, 3, 6), rod)
    const cutOff = Int32Array.from({ length: 7 * sixty }, (_, i) => (Math.floor(i / sixty) === 3 ? 1 : 0))
    const z = coupledGroupsOhm(field, cutOff, 2, 30)
    if (!z.ok) throw new Error('piles overlap')
    const ohm = z.value[0] + z.value[3] - 2 * z.value[1]
    expect(ohm).toBeGreaterThan(0.2)
    expect(ohm).toBeLessThan(0.4)
  })
})
