import type { SoilLeaks } from '../network/soilLeaks.ts'
import { leakTree } from './leakTree.ts'

/** Volts of a point of the ground surface to remote earth. */
export type Surface = (xM: number, yM: number) => number

/**
 * Squares farther off than so many of their widths count as one rod. A square evenly filled is then told to
 * 1/12 · 1/3² · ½ of what it adds, some 0.5 %, and most of that is the same all round it.
 */
const farWidths = 3

/**
 * Volts of the ground surface above metal that gives off current in uniform soil, by superposition. A rod of length L from
 * the surface down, its current even along it, raises at distance r (point sources and their images, integrated)
 *
 *   V = ρI/(2πL) · asinh(L/r),   far away ρI/(2πr), as round a half sphere
 *
 * and at its own axis no more than the rod itself has. Other metal in the soil does not change the field. Far pieces are
 * lumped by squares, those that take current apart from those that give it off (Barnes and Hut 1986, "A hierarchical
 * O(N log N) force-calculation algorithm", Nature 324, 446–449). O(log pieces) a point.
 *
 * With `blurM` every distance is √(r² + blurM²): a leak spread over so many metres, for grids that are too coarse for single
 * posts.
 */
export function surfaceOf(leaks: SoilLeaks, blurM = 0): Surface {
  const tree = leakTree(leaks)
  const { centreX, centreY, widthM, child, members, lumpX, lumpY, lumpLengthM, lumpA } = tree
  const waiting: number[] = []
  const voltOf = (dx: number, dy: number, lengthM: number, leakA: number, mostV: number) => {
    const size = leakVolts(leaks.soilOhmM, leakA, lengthM, Math.sqrt(dx * dx + dy * dy + blurM * blurM))
    return Math.sign(leakA) * Math.min(size, mostV)
  }
  return (x, y) => {
    let volt = 0
    if (widthM.length > 0) waiting.push(0)
    while (waiting.length > 0) {
      const s = waiting.pop()!
      const far = farWidths * widthM[s]
      const isCut = members[s].length === 0
      if (isCut && (x - centreX[s]) ** 2 + (y - centreY[s]) ** 2 > far * far) {
        for (let lump = 2 * s; lump < 2 * s + 2; lump++)
          volt += voltOf(x - lumpX[lump], y - lumpY[lump], lumpLengthM[lump], lumpA[lump], Infinity)
        continue
      }
      for (const p of members[s])
        volt += voltOf(x - leaks.xM[p], y - leaks.yM[p], leaks.lengthM[p], leaks.leakA[p], leaks.selfV[p])
      for (let k = 4 * s; k < 4 * s + 4; k++) if (child[k] >= 0) waiting.push(child[k])
    }
    return volt
  }
}

/** What one leak alone raises the ground by at distance r, without its sign; 0 where nothing leaks. */
export function leakVolts(soilOhmM: number, leakA: number, lengthM: number, r: number): number {
  if (leakA === 0) return 0
  return (soilOhmM / (2 * Math.PI)) * Math.abs(leakA) * meanOfInverse(lengthM, r)
}

/** asinh(L/r)/L, the mean of 1/distance from a point of the surface to the rod; its series where the rod is far. */
function meanOfInverse(lengthM: number, r: number): number {
  const u = (lengthM / r) ** 2
  if (u < 0.01) return (1 - u * (1 / 6 - u * (3 / 40 - (u * 15) / 336))) / r
  return Math.asinh(lengthM / r) / lengthM
}
