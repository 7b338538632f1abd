import type { Units } from './units.ts'

/** What lengths of a drawing are typed and shown in. */
export type LengthUnit = 'm' | 'mm' | 'ft' | 'in'

const metresIn: Readonly<Record<LengthUnit, number>> = { m: 1, mm: 0.001, ft: 0.3048, in: 0.0254 }

/** The units to choose from, the usual one first. */
export function lengthUnitsOf(units: Units): readonly LengthUnit[] {
  return units === 'us' ? ['ft', 'in'] : ['m', 'mm']
}

/** Metres as a number in the unit: no digits but those that a drawing has. */
export function toLengthUnit(lengthM: number, unit: LengthUnit): number {
  return Number((lengthM / metresIn[unit]).toFixed(unit === 'mm' ? 1 : 4))
}

/** `0.57 m`, `570 mm`: as it was drawn, not rounded to what one could measure. */
export function writeLength(lengthM: number, unit: LengthUnit): string {
  const shown = toLengthUnit(lengthM, unit)
  return `${unit === 'mm' ? Math.round(shown) : Number(shown.toFixed(3))} ${unit}`
}

export interface AreaUnit {
  readonly symbol: string
  readonly mm2: number
}

export function areaUnitOf(units: Units): AreaUnit {
  return units === 'us' ? { symbol: 'in²', mm2: 645.16 } : { symbol: 'mm²', mm2: 1 }
}
