import type { BySort, DrawnSort } from './drawnItem.ts'
import type { Motion } from './motion.ts'
import { roundBearing } from './motion.ts'
import { sameContent } from './sameContent.ts'
import type { Conductor } from './schema/equipment.ts'

const turned = (bearingDeg: number, { turnDeg }: Motion) =>
  turnDeg === 0 ? bearingDeg : roundBearing(bearingDeg + turnDeg)

/** A thing of each sort somewhere else, its id and everything else kept, also a measured length. */
const movedOfSort: { readonly [S in DrawnSort]: (thing: BySort[S], motion: Motion) => BySort[S] } = {
  row: (row, motion) => ({
    ...row,
    originM: motion.to(row.originM),
    bearingDeg: turned(row.bearingDeg, motion),
  }),
  enclosure: (enclosure, motion) => ({
    ...enclosure,
    atM: motion.to(enclosure.atM),
    bearingDeg: turned(enclosure.bearingDeg, motion),
  }),
  earthBar: (bar, { to }) => ({ ...bar, atM: to(bar.atM) }),
  electrode: (electrode, { to }) =>
    electrode.form === 'strip'
      ? { ...electrode, pathM: electrode.pathM.map(to) }
      : { ...electrode, atM: to(electrode.atM) },
  conductor: (conductor, motion) => movedConductor(conductor, () => motion),
  aisle: (aisle, { to }) => ({ ...aisle, pathM: aisle.pathM.map(to) }),
  obstacle: (obstacle, { to }) => ({ ...obstacle, outlineM: obstacle.outlineM.map(to) }),
}

/** The thing where the motion takes it; the same one where it stays. */
export function movedThing<S extends DrawnSort>(sort: S, thing: BySort[S], motion: Motion): BySort[S] {
  const moved = movedOfSort[sort](thing, motion)
  return sameContent(moved, thing) ? thing : moved
}

/** Each point by its own motion; null leaves a point where it is. The same conductor where all stay. */
export function movedConductor(
  conductor: Conductor,
  motionOf: (point: Conductor['points'][number]) => Motion | null,
): Conductor {
  let isSame = true
  const points = conductor.points.map((point) => {
    const atM = motionOf(point)?.to(point.atM) ?? point.atM
    if (sameContent(atM, point.atM)) return point
    isSame = false
    return { ...point, atM }
  })
  return isSame ? conductor : { ...conductor, points }
}
