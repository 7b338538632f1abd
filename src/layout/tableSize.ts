import type { TableType } from '../model/schema/tableType.ts'

/**
 * Sizes of a table in metres: along the row as built, up the slope as seen in plan (times cos tilt).
 *
 *   station 1    2      3      4
 *           |####||####||####|      each gap is halved by its station, the outer stations are the
 *           |####||####||####|      outer edges of the outer modules
 */
export interface TableSize {
  readonly alongM: number
  readonly upM: number
  readonly frameAlongM: number
  readonly frameUpM: number
  /** Distance from a frame's edge to the same edge of its neighbour. */
  readonly pitchAlongM: number
  readonly pitchUpM: number
  /** Place of station s (1 …) along the table, at index s − 1. */
  readonly stationM: Float64Array
  /** Factor from the plane of the modules to the plan. */
  readonly planFactor: number
}

/** Portrait: the short side runs along the table. O(modules across). */
export function tableSize(type: TableType): TableSize {
  const { high, across, longSideM, shortSideM, orientation, gapAcrossM, gapHighM } = type.modules
  const planFactor = Math.cos((type.tiltDeg * Math.PI) / 180)
  const frameAlongM = orientation === 'portrait' ? shortSideM : longSideM
  const frameUpM = (orientation === 'portrait' ? longSideM : shortSideM) * planFactor
  const pitchAlongM = frameAlongM + gapAcrossM
  const pitchUpM = frameUpM + gapHighM * planFactor
  const alongM = across * frameAlongM + (across - 1) * gapAcrossM
  const stationM = new Float64Array(across + 1)
  for (let s = 1; s < across; s++) stationM[s] = s * pitchAlongM - gapAcrossM / 2
  stationM[across] = alongM
  return {
    alongM,
    upM: high * frameUpM + (high - 1) * gapHighM * planFactor,
    frameAlongM,
    frameUpM,
    pitchAlongM,
    pitchUpM,
    stationM,
    planFactor,
  }
}
