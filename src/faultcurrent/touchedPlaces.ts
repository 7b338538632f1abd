import { partPositionM } from '../layout/positions.ts'
import { soilLeaks } from '../network/soilLeaks.ts'
import type { FaultFlow } from './faultFlow.ts'
import { surfaceOf } from './surfaceVolts.ts'
import { theveninOhm } from './thevenin.ts'

/** Volts between two places without the person, and the ohms behind them. */
export interface TouchedVolts {
  readonly prospectiveV: number
  readonly ohmBetween: number
}

/** Between two parts, one in each hand. Nothing, behind infinite ohms, where the fault's circuit does not reach both. */
export function betweenHands(flow: FaultFlow, hand: number, other: number): TouchedVolts {
  if (!isMet(flow, hand) || !isMet(flow, other)) return { prospectiveV: 0, ohmBetween: Infinity }
  const prospectiveV = Math.abs(flow.nodeV[hand] - flow.nodeV[other])
  return { prospectiveV, ohmBetween: theveninOhm(flow, hand, other) }
}

const directions = 16

/**
 * Between a part and the ground an arm's reach from it, on the side where that has least in common with it. The ohms are those
 * from the part to remote earth; the feet's own come on top. Yields the
 * fraction done.
 */
export function* fromHandToFeet(
  flow: FaultFlow,
  hand: number,
  armReachM: number,
): Generator<number, TouchedVolts> {
  const { network } = flow.reduced.prepared
  const { remoteEarth, index } = network
  if (!isMet(flow, hand) || !isMet(flow, remoteEarth)) return { prospectiveV: 0, ohmBetween: Infinity }
  const atM = partPositionM(index, hand)
  const surface = surfaceOf(yield* soilLeaks(network, flow.edgeA))
  let prospectiveV = atM ? 0 : Math.abs(flow.nodeV[hand])
  for (let k = 0; k < directions && atM; k++) {
    const turn = (2 * Math.PI * k) / directions
    const volt = surface(atM.x + armReachM * Math.cos(turn), atM.y + armReachM * Math.sin(turn))
    prospectiveV = Math.max(prospectiveV, Math.abs(flow.nodeV[hand] - volt))
  }
  return { prospectiveV, ohmBetween: theveninOhm(flow, hand, remoteEarth) }
}

/** Between a part and ground that stands at so many volts to remote earth; as `fromHandToFeet` for the ohms. */
export function fromGround(flow: FaultFlow, part: number, groundV: number): TouchedVolts {
  const { remoteEarth } = flow.reduced.prepared.network
  if (!isMet(flow, part) || !isMet(flow, remoteEarth)) return { prospectiveV: 0, ohmBetween: Infinity }
  return {
    prospectiveV: Math.abs(flow.nodeV[part] - groundV),
    ohmBetween: theveninOhm(flow, part, remoteEarth),
  }
}

/** Volts between a part and such ground alone, without the ohms: 0 where the fault's circuit does not reach the part. */
export function voltsToGround(flow: FaultFlow, part: number, groundV: number): number {
  return isMet(flow, part) ? Math.abs(flow.nodeV[part] - groundV) : 0
}

function isMet({ reduced }: FaultFlow, part: number): boolean {
  return reduced.electrical.includes(reduced.prepared.network.electrical.islands.of[part])
}
