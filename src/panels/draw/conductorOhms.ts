import { conductorSize, type ConductorSizeId } from '../../model/conductorSizes.ts'
import { pathLengthM } from '../../layout/path.ts'
import type { Conductor } from '../../model/schema/equipment.ts'
import { memberOhmPerM } from '../../network/conductorOhm.ts'

/** What follows from a conductor's metal, area and length, at a temperature of its metal in °C. */
export function conductorOhms(conductor: Conductor, temperatureC: number) {
  const { material, areaMm2, closed, points, lengthM } = conductor
  const path = points.map(({ atM }) => atM)
  const drawnM = pathLengthM(path, closed)
  const ohmPerM = memberOhmPerM({ materialId: material, areaMm2 }, temperatureC)
  return { ohmPerM, totalOhm: ohmPerM * (lengthM ?? drawnM), drawnM }
}

/** Metal area, in mm², of a size of the catalogue by its id; an id that is none is a bug. */
export function areaOfSize(size: string): number {
  return conductorSize(size as ConductorSizeId).areaMm2
}
