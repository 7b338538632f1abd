import type { GroundStep } from '../model/faultAnswers.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { SoilLeaks } from '../network/soilLeaks.ts'
import { leakVolts, type Surface } from './surfaceVolts.ts'

const looks = 32
const narrowings = 24

/** The metre from a point over which the volts of the ground change most: looked for all round, then narrowed down. */
export function steepestMetre(surface: Surface, { x, y }: PointM): GroundStep {
  const here = surface(x, y)
  const endAt = (turn: number) => ({ x: x + Math.cos(turn), y: y + Math.sin(turn) })
  const stepAt = (turn: number) => {
    const end = endAt(turn)
    return here - surface(end.x, end.y)
  }
  const apart = (2 * Math.PI) / looks
  let turn = 0
  let most = -1
  for (let k = 0; k < looks; k++) {
    const size = Math.abs(stepAt(k * apart))
    if (size > most) [turn, most] = [k * apart, size]
  }
  for (let n = 0, width = apart; n < narrowings; n++, width /= 1.5) {
    for (const other of [turn - width / 2, turn + width / 2]) {
      const size = Math.abs(stepAt(other))
      if (size > most) [turn, most] = [other, size]
    }
  }
  const end = endAt(turn)
  return stepAt(turn) >= 0
    ? { volt: most, fromM: { x, y }, toM: end }
    : { volt: most, fromM: end, toM: { x, y } }
}

/** Leaks from whose edge a step is looked for: those that alone make the largest. */
const mostLooked = 24
const edgePoints = 8

/**
 * The largest step of a metre: from the edges of the leaks that alone would make the largest, of all of them or of those that
 * are asked for. Null without a leak.
 * O(leaks · log leaks). Yields the fraction done.
 */
export function* largestStep(
  leaks: SoilLeaks,
  surface: Surface,
  isAsked: (leak: number) => boolean = () => true,
): Generator<number, GroundStep | null> {
  const alone = Float64Array.from(leaks.leakA, (_, p) => stepAlone(leaks, p))
  const order = Array.from(alone, (_, p) => p)
    .filter(isAsked)
    .sort((p, q) => alone[q] - alone[p])
  const looked = order.slice(0, mostLooked)
  let most: GroundStep | null = null
  for (const [n, p] of looked.entries()) {
    for (let k = 0; k < edgePoints; k++) {
      const turn = (2 * Math.PI * k) / edgePoints
      const x = leaks.xM[p] + leaks.radiusM[p] * Math.cos(turn)
      const y = leaks.yM[p] + leaks.radiusM[p] * Math.sin(turn)
      const step = steepestMetre(surface, { x, y })
      if (most === null || step.volt > most.volt) most = step
    }
    yield (n + 1) / looked.length
  }
  return most
}

/** Volts from the edge of a leak to one metre off, were there no other. */
function stepAlone({ soilOhmM, lengthM, leakA, selfV, radiusM }: SoilLeaks, p: number): number {
  return selfV[p] - leakVolts(soilOhmM, leakA[p], lengthM[p], radiusM[p] + 1)
}
