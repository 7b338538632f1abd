import { channelsOf } from '../../src/canvas/palette.ts'

export type Linear = readonly [number, number, number]

/** sRGB to linear light, IEC 61966-2-1. */
export function linearOf(colour: string): Linear {
  const [red, green, blue] = channelsOf(colour).map((channel) => {
    const share = channel / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  })
  return [red, green, blue]
}

function luminanceOf([red, green, blue]: Linear): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/** Contrast ratio of WCAG 2.2, 1 … 21. */
export function contrastOf(one: string, other: string): number {
  const [darker, lighter] = [luminanceOf(linearOf(one)), luminanceOf(linearOf(other))].sort((a, b) => a - b)
  return (lighter + 0.05) / (darker + 0.05)
}

/**
 * What eyes without one sort of cones see of linear RGB: Machado, Oliveira & Fernandes, "A physiologically-based
 * model for simulation of color vision deficiency", IEEE TVCG 15 (2009), severity 1.0 (values from memory).
 */
export const dichromats: Readonly<Record<'protanopia' | 'deuteranopia', readonly Linear[]>> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
}

export function seenBy(matrix: readonly Linear[], colour: Linear): Linear {
  const [red, green, blue] = matrix.map((row) => {
    const value = row[0] * colour[0] + row[1] * colour[1] + row[2] * colour[2]
    return Math.min(Math.max(value, 0), 1)
  })
  return [red, green, blue]
}

/** CIE 1976 L*a*b* under D65. */
function labOf([red, green, blue]: Linear): Linear {
  const x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
  const y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
  const z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089
  const [fx, fy, fz] = [x, y, z].map((t) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116))
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)]
}

/** Distance in CIELAB (1976): about 2.3 is just noticeable side by side. */
export function distanceOf(one: Linear, other: Linear): number {
  const a = labOf(one)
  const b = labOf(other)
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
}

export function lightnessOf(colour: string): number {
  return labOf(linearOf(colour))[0]
}
