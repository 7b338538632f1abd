import { pathLengthM } from '../layout/path.ts'
import type { Electrode } from '../model/schema/equipment.ts'
import { plateOhm, ringOhm, straightWireOhm, uprightOhm } from './buriedOhm.ts'

/**
 * Ohms from an electrode to remote earth: as measured where it was, else by its form in uniform soil. Null for a
 * strip without length.
 */
export function drawnElectrodeOhm(electrode: Electrode, soilOhmM: number): number | null {
  if (electrode.measuredOhm !== null) return electrode.measuredOhm
  switch (electrode.form) {
    case 'rod':
      return uprightOhm({ lengthM: electrode.lengthM, radiusM: electrode.diameterM / 2 }, soilOhmM)
    case 'plate':
      return plateOhm(electrode.areaM2, soilOhmM)
    case 'strip': {
      const { pathM, closed, diameterM, depthM } = electrode
      const wire = { lengthM: pathLengthM(pathM, closed), radiusM: diameterM / 2, depthM }
      if (wire.lengthM === 0) return null
      return closed ? ringOhm(wire, soilOhmM) : straightWireOhm(wire, soilOhmM)
    }
  }
}
