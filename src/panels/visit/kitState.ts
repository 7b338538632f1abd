import type { Kit } from '../../model/schema/record.ts'

/** What speaks against an instrument on a day. */
export interface KitTrouble {
  /** Calibration ended before the day. */
  readonly isExpired: boolean
  /** The last check on a known resistor lay further off than the bound of its error. */
  readonly isOff: boolean
}

/** Bound of the error at so many ohms: ±(gain × reading + digits × resolution). */
export function boundOhm({ gainError, digits, resolutionOhm }: Kit, ohm: number): number {
  return gainError * ohm + digits * resolutionOhm
}

/** `now` is an ISO instant; its own calendar day counts, and a calibration holds through the day on which it is due. */
export function kitTrouble(kit: Kit, now: string): KitTrouble {
  const { calibrationDue, lastCheck } = kit
  const isExpired = calibrationDue !== null && calibrationDue < now.slice(0, 10)
  const offOhm = lastCheck ? Math.abs(lastCheck.readOhm - lastCheck.referenceOhm) : 0
  // a hair of rounding is no error of the instrument
  const isOff = lastCheck !== null && offOhm > boundOhm(kit, lastCheck.referenceOhm) * (1 + 1e-9)
  return { isExpired, isOff }
}
