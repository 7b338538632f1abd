import type { PointM } from './schema/primitives.ts'

/** A shift or a turn in plan: where each point goes, and how far clockwise what has a bearing is turned. */
export interface Motion {
  readonly to: (at: PointM) => PointM
  readonly turnDeg: number
}

/** Places that are computed are kept to 0.1 mm: finer than anything is drawn or built. */
const perMetre = 10_000
const perDegree = 1_000_000

/** A length or coordinate to 0.1 mm, so that binary dust does not gather from one move to the next. Never −0. */
export function roundM(lengthM: number): number {
  return Math.round(lengthM * perMetre) / perMetre + 0
}

export function roundPointM({ x, y }: PointM): PointM {
  return { x: roundM(x), y: roundM(y) }
}

/** A bearing from 0 to below 360, to a millionth of a degree (17 µm in a kilometre). */
export function roundBearing(bearingDeg: number): number {
  const rounded = Math.round(bearingDeg * perDegree) / perDegree
  return (((rounded % 360) + 360) % 360) + 0
}

/** All points by the same way. */
export function shiftBy(byM: PointM): Motion {
  return { to: ({ x, y }) => roundPointM({ x: x + byM.x, y: y + byM.y }), turnDeg: 0 }
}

/**
 * Clockwise about a point, which is itself taken to 0.1 mm: four quarter turns then bring everything back to where it
 * was. Quarter turns use no sine.
 */
export function turnAbout(aboutM: PointM, byDeg: number): Motion {
  const { x: ax, y: ay } = roundPointM(aboutM)
  const [sin, cos] = sineAndCosine(roundBearing(byDeg))
  return {
    to: ({ x, y }) => {
      const [dx, dy] = [x - ax, y - ay]
      return roundPointM({ x: ax + dx * cos + dy * sin, y: ay - dx * sin + dy * cos })
    },
    turnDeg: byDeg,
  }
}

const quarterTurns: ReadonlyMap<number, readonly [number, number]> = new Map([
  [0, [0, 1]],
  [90, [1, 0]],
  [180, [0, -1]],
  [270, [-1, 0]],
])

function sineAndCosine(deg: number): readonly [number, number] {
  const radians = (deg * Math.PI) / 180
  return quarterTurns.get(deg) ?? [Math.sin(radians), Math.cos(radians)]
}
