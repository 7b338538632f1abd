import { channelsOf } from './palette.ts'

/*
 * Pixels are 32-bit words as ImageData has them in memory on the processors browsers run on (little-endian):
 * alpha, blue, green, red from the highest byte down.
 */

/** An opaque pixel of the colour #rrggbb. */
export function packed(colour: string): number {
  const [red, green, blue] = channelsOf(colour)
  return (0xff000000 | (blue << 16) | (green << 8) | red) >>> 0
}

/**
 * `over` laid on `under` with weight 0 … 256; both opaque. Red and blue are mixed together: the largest sum,
 * 255 · 2¹⁶ · 256 + 255 · 256, stays below 2³².
 */
export function blended(under: number, over: number, weight: number): number {
  const rest = 256 - weight
  const redBlue = (((under & 0xff00ff) * rest + (over & 0xff00ff) * weight) >>> 8) & 0xff00ff
  const green = (((under & 0x00ff00) * rest + (over & 0x00ff00) * weight) >>> 8) & 0x00ff00
  return (0xff000000 | redBlue | green) >>> 0
}
