import type { SoilLeaks } from '../network/soilLeaks.ts'

/** Volts of a point of the ground surface to remote earth, and how they rise per metre to east and north. */
export interface SurfacePoint {
  volt: number
  east: number
  north: number
}

/** A surface that can be asked at any point; the object is filled anew each time. */
export type Surface = (xM: number, yM: number) => SurfacePoint

/** Cells farther off than so many of their widths count as one rod: some 0.3 % of what they add is lost. */
const farWidths = 4

/**
 * Volts of the ground surface above metal that gives off current in uniform soil, by superposition. A rod of length L from
 * the surface down, its current even along it, raises at distance r (point sources and their images, integrated)
 *
 *   V = ρI/(2πL) · asinh(L/r),   far away ρI/(2πr), as round a half sphere
 *
 * and at its own axis no more than the rod itself has. Other metal in the soil does not change the field. Far pieces are
 * lumped by cells, those that take current apart from those that give it off. O(√pieces) a point.
 */
export function surfaceOf(leaks: SoilLeaks): Surface {
  const { cells, widthM } = cellsOf(leaks)
  const near = (farWidths * widthM) ** 2
  const point = { volt: 0, east: 0, north: 0 }
  return (xM, yM) => {
    point.volt = point.east = point.north = 0
    for (const { centreX, centreY, members, lumps } of cells) {
      const isFar = (xM - centreX) ** 2 + (yM - centreY) ** 2 > near
      if (isFar) for (const lump of lumps) add(point, leaks.soilOhmM, lump, xM, yM)
      else for (const rod of members) add(point, leaks.soilOhmM, rod, xM, yM)
    }
    return point
  }
}

interface Leak {
  readonly xM: number
  readonly yM: number
  readonly lengthM: number
  readonly leakA: number
  readonly mostV: number
}

interface Cell {
  readonly centreX: number
  readonly centreY: number
  readonly members: readonly Leak[]
  readonly lumps: readonly Leak[]
}

function add(point: SurfacePoint, soilOhmM: number, leak: Leak, xM: number, yM: number): void {
  const { lengthM, leakA, mostV } = leak
  const dx = xM - leak.xM
  const dy = yM - leak.yM
  const r = Math.hypot(dx, dy)
  const perAmpere = soilOhmM / (2 * Math.PI)
  const size = perAmpere * Math.abs(leakA) * (lengthM > 1e-6 * r ? Math.asinh(lengthM / r) / lengthM : 1 / r)
  if (!(size < mostV)) {
    point.volt += Math.sign(leakA) * mostV
    return
  }
  point.volt += Math.sign(leakA) * size
  const slope = (-perAmpere * leakA) / (r * r * Math.hypot(r, lengthM))
  point.east += slope * dx
  point.north += slope * dy
}

function cellsOf(leaks: SoilLeaks): { readonly cells: readonly Cell[]; readonly widthM: number } {
  const { xM, yM } = leaks
  const n = xM.length
  const low = { x: Infinity, y: Infinity }
  const high = { x: -Infinity, y: -Infinity }
  for (let p = 0; p < n; p++) {
    low.x = Math.min(low.x, xM[p])
    low.y = Math.min(low.y, yM[p])
    high.x = Math.max(high.x, xM[p])
    high.y = Math.max(high.y, yM[p])
  }
  const areaM2 = Math.max(1, high.x - low.x) * Math.max(1, high.y - low.y)
  // as many cells as a cell has members
  const widthM = Math.max(1, Math.sqrt(areaM2 / Math.max(1, Math.sqrt(n))))
  const across = Math.floor((high.x - low.x) / widthM) + 1
  const members = new Map<number, Leak[]>()
  for (let p = 0; p < n; p++) {
    const column = Math.floor((xM[p] - low.x) / widthM)
    const row = Math.floor((yM[p] - low.y) / widthM)
    const key = row * across + column
    const list = members.get(key) ?? []
    members.set(key, list)
    list.push(leakAt(leaks, p))
  }
  const cells = [...members].map(([key, list]) => ({
    centreX: low.x + ((key % across) + 0.5) * widthM,
    centreY: low.y + (Math.floor(key / across) + 0.5) * widthM,
    members: list,
    lumps: [1, -1].flatMap((sign) => lumpOf(list.filter(({ leakA }) => leakA * sign > 0))),
  }))
  return { cells, widthM }
}

function leakAt({ xM, yM, lengthM, leakA, selfV }: SoilLeaks, p: number): Leak {
  return { xM: xM[p], yM: yM[p], lengthM: lengthM[p], leakA: leakA[p], mostV: selfV[p] }
}

/** One rod in the middle of many, the middle weighted by their currents; nothing for none. */
function lumpOf(list: readonly Leak[]): Leak[] {
  if (list.length === 0) return []
  const leakA = list.reduce((sum, leak) => sum + leak.leakA, 0)
  const mean = (of: (leak: Leak) => number) =>
    list.reduce((sum, leak) => sum + leak.leakA * of(leak), 0) / leakA
  return [
    {
      xM: mean(({ xM }) => xM),
      yM: mean(({ yM }) => yM),
      lengthM: mean(({ lengthM }) => lengthM),
      leakA,
      mostV: Infinity,
    },
  ]
}
