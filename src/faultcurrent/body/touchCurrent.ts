import { assert } from '../../base/assert.ts'
import type { BodyCurrent, BodyPath } from '../../model/faultAnswers.ts'
import type { CurrentKind } from '../../model/faultRules.ts'
import { bodyOhm, type Body } from './bodyOhm.ts'
import { shockZone } from './shockZone.ts'

export interface Touch {
  /** Volts between the two places without the person, 0 or more. */
  readonly prospectiveV: number
  /** What is in series with the body: feet, shoes, and the network between the two places. */
  readonly seriesOhm: number
}

/** Halvings of the interval of volts: as fine as a double can tell. */
const halvings = 60

/**
 * Volts across a body whose impedance depends on them, behind a source of `prospectiveV` with `seriesOhm`:
 *
 *     u + R·u/Z(u) = U
 *
 * Z never rises with u, so the left side rises strictly with u: there is one solution in 0 … U, and halving finds it.
 * Rises with U, falls with R. An infinite R leaves nothing.
 */
export function touchVoltsOf(body: Body, { prospectiveV, seriesOhm }: Touch): number {
  assert(prospectiveV >= 0 && Number.isFinite(prospectiveV), `${prospectiveV} V between two places`)
  assert(seriesOhm >= 0, `${seriesOhm} ohm in series with a body`)
  if (seriesOhm === Infinity) return 0
  if (seriesOhm === 0) return prospectiveV
  let low = 0
  let high = prospectiveV
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2
    if (middle + (seriesOhm * middle) / bodyOhm(body, middle) < prospectiveV) low = middle
    else high = middle
  }
  return high
}

export interface Shock extends Touch {
  readonly kind: CurrentKind
  readonly path: BodyPath
  readonly isWet: boolean
  /** Seconds in the circuit; null: without end. */
  readonly durationS: number | null
}

/** What bodies of 5, 50 and 95 % carry, and which zone of effects that is: most current first. */
export function touchCurrents({ kind, path, isWet, durationS, ...touch }: Shock): readonly BodyCurrent[] {
  return ([5, 50, 95] as const).map((percentile) => {
    const body = { kind, path, percentile, isWet }
    const touchV = touchVoltsOf(body, touch)
    const ohm = bodyOhm(body, touchV)
    const currentA = touchV / ohm
    return {
      percentile,
      touchV,
      bodyOhm: ohm,
      currentA,
      zone: shockZone({ kind, path, currentA, durationS }),
    }
  })
}
