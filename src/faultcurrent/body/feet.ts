import { assert } from '../../base/assert.ts'

/** Radius in metres of the disc that a foot is taken for: IEEE Std 80-2013 §7.4. */
export const footRadiusM = 0.08

export interface Ground {
  readonly soilOhmM: number
  /** What lies on the soil, as crushed rock does; null: nothing. */
  readonly surface: { readonly ohmM: number; readonly thicknessM: number } | null
}

/**
 * What a thin surface layer is worth, as a share of its own ohm metre:
 *
 *     C_s = 1 − 0.09·(1 − ρ/ρ_s)/(2·h_s + 0.09)
 *
 * IEEE Std 80-2013 equation 27 (from memory), made for layers that resist more than the soil does. Without thickness it
 * gives ρ/ρ_s: the soil.
 */
export function surfaceDerating(soilOhmM: number, ohmM: number, thicknessM: number): number {
  assert(
    soilOhmM > 0 && ohmM > 0 && thicknessM >= 0,
    'ground without resistivity, or a layer of less than nothing',
  )
  return 1 - (0.09 * (1 - soilOhmM / ohmM)) / (2 * thicknessM + 0.09)
}

/** Ohm metre that a foot meets: C_s·ρ_s, or the soil's. */
export function underfootOhmM({ soilOhmM, surface }: Ground): number {
  return surface === null
    ? soilOhmM
    : surface.ohmM * surfaceDerating(soilOhmM, surface.ohmM, surface.thicknessM)
}

/** Ohms of one bare foot to remote earth: a disc on the ground, ρ/(4b). */
export function footOhm(ground: Ground): number {
  return underfootOhmM(ground) / (4 * footRadiusM)
}

/**
 * Ohms of both feet with their shoes, `shoeOhm` each: `parallel` for a hand that touches, `series` for a step. What the feet
 * share of the ground is left out, as the standard does.
 */
export function feetOhm(ground: Ground, shoeOhm: number, stand: 'parallel' | 'series'): number {
  assert(shoeOhm >= 0, `${shoeOhm} ohm of a shoe`)
  const each = footOhm(ground) + shoeOhm
  return stand === 'parallel' ? each / 2 : each * 2
}
