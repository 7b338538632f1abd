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
 * `over` laid on `under` with weight 0 … 256; both opaque. Red and blue are mixed together: their sum stays below
 * 2³², so that products that wrap add up right, and all of it is 32-bit whole-number arithmetic (twice as fast
 * as with doubles). The word comes back signed, as a typed array takes it.
 */
export function blended(under: number, over: number, weight: number): number {
  const rest = 256 - weight
  const redBlue = (Math.imul(under & 0xff00ff, rest) + Math.imul(over & 0xff00ff, weight)) >>> 8
  const green = (Math.imul(under & 0x00ff00, rest) + Math.imul(over & 0x00ff00, weight)) >>> 8
  return 0xff000000 | (redBlue & 0xff00ff) | (green & 0x00ff00)
}
