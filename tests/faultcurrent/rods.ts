import type { SoilLeaks } from '../../src/network/soilLeaks.ts'

/** Place, length in soil and amperes into it. */
export type Rod = readonly [xM: number, yM: number, lengthM: number, leakA: number]

/** Rods of 16 mm in uniform soil, as the network tells of them. */
export function leaksOf(rods: readonly Rod[], soilOhmM = 100): SoilLeaks {
  const column = (k: 0 | 1 | 2 | 3) => Float64Array.from(rods, (rod) => rod[k])
  const lengthM = column(2)
  const leakA = column(3)
  const radiusM = lengthM.map(() => 0.008)
  const self = (l: number) => (soilOhmM / (2 * Math.PI * l)) * (Math.log((4 * l) / 0.008) - 1)
  const selfV = leakA.map((i, p) => Math.abs(i) * self(lengthM[p]))
  return { soilOhmM, xM: column(0), yM: column(1), lengthM, radiusM, leakA, selfV }
}
