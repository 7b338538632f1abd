import { wireEnd } from '../layout/conductorIndex.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parsePartAddress } from '../model/address.ts'
import { pathSet, type PathSet } from './pathSet.ts'

/** Half size, in metres, of a symbol whose real thing has no drawn size; those of bars and rods stand in layout. */
export const conductorEndHalfM = 0.07

export const rodForm = 0
export const plateForm = 1
export const stripForm = 2

/** Everything that is drawn one by one, in metres of the plan. */
export interface ItemGeometry {
  /** Six numbers each: centre, direction of the width, half width, half depth. */
  readonly enclosures: Float64Array
  /** Two numbers each. */
  readonly earthBars: Float64Array
  readonly electrodeForm: Uint8Array
  /** Three numbers each: place of rod or plate, half side of the plate. */
  readonly electrodes: Float64Array
  /** One way for each electrode; of a rod or plate it is the one point. */
  readonly strips: PathSet
  readonly conductors: PathSet
  /** Where the end or landing of a conductor is marked, and its lug; two numbers for each of its parts. */
  readonly ends: Float64Array
  readonly lugs: Float64Array
  readonly aisles: PathSet
  readonly obstacles: PathSet
}

/** O(drawn points). */
export function itemGeometry(index: SiteIndex): ItemGeometry {
  const { enclosures, earthBars, electrodes, conductors, aisles, obstacles } = index.drawing
  const conductorPaths = pathSet(
    conductors.map(({ points, closed }) => ({ points: points.map(({ atM }) => atM), closed })),
  )
  return {
    enclosures: Float64Array.from(
      enclosures.flatMap(({ atM, widthM, depthM, bearingDeg }) => {
        const bearing = (bearingDeg * Math.PI) / 180
        return [atM.x, atM.y, Math.cos(bearing), -Math.sin(bearing), widthM / 2, depthM / 2]
      }),
    ),
    earthBars: Float64Array.from(earthBars.flatMap(({ atM }) => [atM.x, atM.y])),
    electrodeForm: Uint8Array.from(electrodes, ({ form }) =>
      form === 'rod' ? rodForm : form === 'plate' ? plateForm : stripForm,
    ),
    electrodes: Float64Array.from(
      electrodes.flatMap((electrode) => {
        const { x, y } = electrode.form === 'strip' ? electrode.pathM[0] : electrode.atM
        return [x, y, electrode.form === 'plate' ? Math.sqrt(electrode.areaM2) / 2 : 0]
      }),
    ),
    strips: pathSet(
      electrodes.map((electrode) =>
        electrode.form === 'strip'
          ? { points: electrode.pathM, closed: electrode.closed }
          : { points: [electrode.atM], closed: false },
      ),
    ),
    conductors: conductorPaths,
    ...endPlaces(index, conductorPaths),
    aisles: pathSet(aisles.map(({ pathM }) => ({ points: pathM, closed: false }))),
    obstacles: pathSet(obstacles.map(({ outlineM }) => ({ points: outlineM, closed: true }))),
  }
}

/**
 * An end that lands on something is marked this far up its wire, or just outside the enclosure it lands on, and
 * its lug on the way there: so each of them can be pointed at, and two that land on one bar as well.
 */
const standOffM = 0.5
const outsideM = 0.15
const lugShare = 0.55

function endPlaces(index: SiteIndex, paths: PathSet): Pick<ItemGeometry, 'ends' | 'lugs'> {
  const { drawing, conductors } = index
  const ends = new Float64Array(2 * conductors.partCount)
  const lugs = new Float64Array(2 * conductors.partCount)
  for (let p = 0; p < conductors.partCount; p++) {
    const { points } = drawing.conductors[conductors.conductor[p]]
    const place = conductors.place[p]
    const { landing } = points[place]
    const at = paths.start[conductors.conductor[p]] + place
    const towards = at + (place + 1 < points.length ? 1 : -1)
    const [x, y] = [paths.x[at], paths.y[at]]
    const [dx, dy] = [paths.x[towards] - x, paths.y[towards] - y]
    const wayM = Math.hypot(dx, dy)
    const share = landing && wayM > 0 ? Math.min(standOffOf(index, landing.part) / wayM, 0.4) : 0
    ends.set([x + share * dx, y + share * dy], 2 * p)
    lugs.set([x + lugShare * share * dx, y + lugShare * share * dy], 2 * p)
  }
  return { ends, lugs }
}

function standOffOf(index: SiteIndex, landing: string): number {
  const address = parsePartAddress(landing)
  const part = address?.at === 'enclosure' ? partIndexOf(index, address) : -1
  if (part < 0) return standOffM
  const { widthM, depthM } = index.drawing.enclosures[part - index.enclosureStart]
  return Math.max(Math.hypot(widthM, depthM) / 2 + outsideM, standOffM)
}

/** First and last point, in `conductors`, of the wire that begins at part point p. */
export function wireSpan(
  { conductors }: SiteIndex,
  { start }: PathSet,
  p: number,
): readonly [number, number] {
  const c = conductors.conductor[p]
  const end = wireEnd(conductors, p)
  const last = end > p ? start[c] + conductors.place[end] : start[c + 1] - 1
  return [start[c] + conductors.place[p], last]
}
