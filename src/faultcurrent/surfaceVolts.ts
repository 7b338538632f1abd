import type { SoilLeaks } from '../network/soilLeaks.ts'
import { leakTree } from './leakTree.ts'

/** Volts of a point of the ground surface to remote earth, and how they rise per metre to east and north. */
export interface SurfacePoint {
  volt: number
  east: number
  north: number
}

/** A surface that can be asked at any point; the object is filled anew each time. */
export type Surface = (xM: number, yM: number) => SurfacePoint

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
  const point = { volt: 0, east: 0, north: 0 }
  const waiting: number[] = []
  const add = (dx: number, dy: number, lengthM: number, leakA: number, mostV: number) => {
    if (leakA !== 0) addLeak(point, leaks.soilOhmM, dx, dy, lengthM, leakA, mostV, blurM)
  }
  return (x, y) => {
    point.volt = point.east = point.north = 0
    if (widthM.length > 0) waiting.push(0)
    while (waiting.length > 0) {
      const s = waiting.pop()!
      const far = farWidths * widthM[s]
      const isCut = members[s].length === 0
      if (isCut && (x - centreX[s]) ** 2 + (y - centreY[s]) ** 2 > far * far) {
        for (let lump = 2 * s; lump < 2 * s + 2; lump++)
          add(x - lumpX[lump], y - lumpY[lump], lumpLengthM[lump], lumpA[lump], Infinity)
        continue
      }
      for (const p of members[s])
        add(x - leaks.xM[p], y - leaks.yM[p], leaks.lengthM[p], leaks.leakA[p], leaks.selfV[p])
      for (let k = 4 * s; k < 4 * s + 4; k++) if (child[k] >= 0) waiting.push(child[k])
    }
    return point
  }
}

function addLeak(
  point: SurfacePoint,
  soilOhmM: number,
  dx: number,
  dy: number,
  lengthM: number,
  leakA: number,
  mostV: number,
  blurM: number,
): void {
  const r = Math.sqrt(dx * dx + dy * dy + blurM * blurM)
  const perAmpere = soilOhmM / (2 * Math.PI)
  const size = perAmpere * Math.abs(leakA) * meanOfInverse(lengthM, r)
  if (!(size < mostV)) {
    point.volt += Math.sign(leakA) * mostV
    return
  }
  point.volt += Math.sign(leakA) * size
  const slope = (-perAmpere * leakA) / (r * r * Math.sqrt(r * r + lengthM * lengthM))
  point.east += slope * dx
  point.north += slope * dy
}

/** asinh(L/r)/L, the mean of 1/distance from a point of the surface to the rod; its series where the rod is far. */
function meanOfInverse(lengthM: number, r: number): number {
  const u = (lengthM / r) ** 2
  if (u < 0.01) return (1 - u * (1 / 6 - u * (3 / 40 - (u * 15) / 336))) / r
  return Math.asinh(lengthM / r) / lengthM
}
