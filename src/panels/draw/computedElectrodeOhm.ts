import type { Electrode } from '../../model/schema/equipment.ts'
import { drawnElectrodeOhm } from '../../network/drawnElectrode.ts'

/** Ohms to remote earth by form and soil alone, whatever was measured; null for a strip without length. */
export function computedElectrodeOhm(electrode: Electrode, soilOhmM: number): number | null {
  return drawnElectrodeOhm({ ...electrode, measuredOhm: null }, soilOhmM)
}
