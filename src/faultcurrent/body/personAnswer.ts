import type { BodyPath, PersonAnswer, PersonInput } from '../../model/faultAnswers.ts'
import type { CurrentKind } from '../../model/faultRules.ts'
import { feetOhm } from './feet.ts'
import { permittedVolts } from './permittedVolts.ts'
import { touchCurrents } from './touchCurrent.ts'

/** What the network has between the two places that somebody touches, seen by the body as volts behind ohms. */
export interface TouchedPlaces {
  readonly kind: CurrentKind
  /** Volts between them without the person; the sign does not count. */
  readonly prospectiveV: number
  /** Ohms of the network between them, sources at rest: milliohms in metal, what earth paths add otherwise. */
  readonly ohmBetween: number
  /** Seconds until a device has acted (`clearedWithinS`); null: without end. */
  readonly durationS: number | null
  /** Soil that the feet stand on where no surface is given. */
  readonly soilOhmM: number
}

/**
 * What one who touches carries and what rules permit. From hand to feet both feet stand beside each other with their shoes;
 * what stands on soil is taken to have no more than the disc's own ohms in it.
 */
export function personAnswer(
  { kind, prospectiveV, ohmBetween, durationS, soilOhmM }: TouchedPlaces,
  { other, surface, shoeOhm, isWet }: Pick<PersonInput, 'other' | 'surface' | 'shoeOhm' | 'isWet'>,
): PersonAnswer {
  const path: BodyPath = other === null ? 'handToFeet' : 'handToHand'
  const ground = other === null ? { soilOhmM, surface } : null
  const seriesOhm = ohmBetween + (ground === null ? 0 : feetOhm(ground, shoeOhm, 'parallel'))
  const volts = Math.abs(prospectiveV)
  const currents = touchCurrents({ kind, path, isWet, durationS, prospectiveV: volts, seriesOhm })
  return {
    prospectiveV: volts,
    seriesOhm,
    touchV: currents[1].touchV,
    path,
    bodyRule: kind === 'ac' ? 'bodyAlternating' : 'bodyDirect',
    currents,
    durationS,
    permitted: permittedVolts({ kind, durationS, ground }),
    ohmBetween,
  }
}
