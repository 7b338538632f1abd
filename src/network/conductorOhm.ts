import { assert } from '../base/assert.ts'
import { materials } from '../model/materials.ts'
import type { MaterialId } from '../model/materials.ts'

/** What sets the ohms per metre of a conductor or a structural member: its metal and its metal area. */
export interface Section {
  readonly materialId: MaterialId
  /** The metal area in square millimetres: of a hollow profile the wall, not the outline. */
  readonly areaMm2: number
}

const referenceC = 20
const mm2PerM2 = 1e6

/**
 * Direct-current resistance R = ρ20·L/A·(1 + α20·(T − 20)) in ohms of a length of conductor, without its ends.
 *
 * A is taken as metal. IEC 60228 lets finished conductors, by lay, wire tolerance and tin, have 4 to 20 % more
 * than their nominal area gives (tests/outside/conductors.test.ts). The linear law is meant for −40 to +150 °C. Not for magnetic
 * steel carrying alternating current, where the current keeps to the skin.
 */
export function conductorOhm(conductor: Section & { lengthM: number; temperatureC: number }): number {
  const { lengthM, temperatureC } = conductor
  assert(Number.isFinite(lengthM) && lengthM > 0, `a conductor cannot be ${lengthM} m long`)
  return lengthM * memberOhmPerM(conductor, temperatureC)
}

/** Ohms per metre ρ20/A·(1 + α20·(T − 20)) of a section at a temperature in °C; see `conductorOhm`. */
export function memberOhmPerM(section: Section, temperatureC: number): number {
  const { materialId, areaMm2 } = section
  assert(Number.isFinite(areaMm2) && areaMm2 > 0, `a conductor cannot have an area of ${areaMm2} mm²`)
  const perM = (materials[materialId].resistivityOhmM * mm2PerM2) / areaMm2
  return perM * temperatureFactor(materialId, temperatureC)
}

/**
 * The ohms at `toC` of metal that has `ohm` at `fromC`: R·(1 + α20·(to − 20))/(1 + α20·(from − 20)).
 * Good for wire and members; a joint's film need not follow the metal.
 */
export function atTemperature(ohm: number, fromC: number, toC: number, materialId: MaterialId): number {
  assert(Number.isFinite(ohm) && ohm >= 0, `${ohm} Ω cannot be moved to another temperature`)
  return (ohm * temperatureFactor(materialId, toC)) / temperatureFactor(materialId, fromC)
}

function temperatureFactor(materialId: MaterialId, temperatureC: number): number {
  assert(Number.isFinite(temperatureC), `${temperatureC} °C is no temperature`)
  const factor = 1 + materials[materialId].temperatureCoefficientPerK * (temperatureC - referenceC)
  assert(factor > 0, `${temperatureC} °C is outside the linear law of ${materialId}`)
  return factor
}
