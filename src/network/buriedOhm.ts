import { assert } from '../base/assert.ts'
import { hemisphereOhm, rodOhm } from './electrodeOhm.ts'
import type { Rod } from './electrodeOhm.ts'

/**
 * Resistance to remote earth, in ohms, of a rod or post of any proportion: Dwight's value (`rodOhm`), but never
 * less than the half sphere that would hold the whole of it. More metal in the soil can only lower a
 * resistance (Rayleigh's monotonicity law), so that half sphere is a certain lower bound; it takes over for a
 * footing shorter than about 1.6 radii, where Dwight's formula falls away to nothing.
 */
export function uprightOhm({ lengthM, radiusM }: Rod, soilOhmM: number): number {
  const atLeast = hemisphereOhm(Math.hypot(lengthM, radiusM), soilOhmM)
  if (4 * lengthM <= Math.E * radiusM) return atLeast
  return Math.max(atLeast, rodOhm({ lengthM, radiusM }, soilOhmM))
}

/**
 * Resistance in ohms of a plate with both faces in soil, R = ρ/4·√(π/A) (BS 7430; that of two faces of a disc of
 * the same area near the surface). Burial deeper than its width lowers it, at most by half.
 */
export function plateOhm(areaM2: number, soilOhmM: number): number {
  assertPositive(areaM2, soilOhmM)
  return (soilOhmM / 4) * Math.sqrt(Math.PI / areaM2)
}

/** A round wire laid in soil: length along its path, wire radius, depth of its axis. Metres. */
export interface BuriedWire {
  readonly lengthM: number
  readonly radiusM: number
  readonly depthM: number
}

/**
 * Resistance in ohms of a straight horizontal wire of length ℓ and radius a, its image 2h above it:
 *
 *     R = ρ/(2πℓ)·[G(a) + G(2h)],   G(d) = asinh(ℓ/d) − √(1 + (d/ℓ)²) + d/ℓ
 *
 * 2·G(d)/ℓ being the mean of 1/r between two parallel lines of length ℓ at distance d. For a, h ≪ ℓ this is the
 * series of Dwight (1936, "Calculation of resistances to ground", AIEE Trans. 55, 1319–1328; IEEE Std 142),
 * which the closed form continues to any depth. Bends are not counted: a bent wire reads a little higher.
 */
export function straightWireOhm({ lengthM, radiusM, depthM }: BuriedWire, soilOhmM: number): number {
  assertPositive(lengthM, radiusM, depthM, soilOhmM)
  const image = Math.max(2 * depthM, radiusM)
  const sum = meanOfLine(lengthM, radiusM) + meanOfLine(lengthM, image)
  return (soilOhmM * sum) / (2 * Math.PI * lengthM)
}

/** asinh(1/u) − √(1 + u²) + u with u = d/ℓ; the root rationalised, which keeps the digits for large u. */
function meanOfLine(lengthM: number, distanceM: number): number {
  const u = distanceM / lengthM
  return Math.asinh(1 / u) - 1 / (Math.sqrt(1 + u * u) + u)
}

/**
 * Resistance in ohms of a horizontal ring of wire, given its perimeter ℓ = 2πr, wire radius a and depth h:
 *
 *     R = ρ/(4π)·[1/agm(√(4r² + a²), a) + 1/agm(√(4r² + s²), s)],   s = 2h
 *
 * 1/agm(√(4r² + d²), d) being the mean of 1/distance to a circle of radius r from a point d beside it (Gauss's
 * arithmetic-geometric mean). For a, h ≪ r it is Dwight's (1936) ρ/(2π²D)·(ln(8D/2a) + ln(4D/s)), D = 2r.
 * A closed loop of another shape counts as the ring of its perimeter.
 */
export function ringOhm({ lengthM, radiusM, depthM }: BuriedWire, soilOhmM: number): number {
  assertPositive(lengthM, radiusM, depthM, soilOhmM)
  const acrossM = lengthM / Math.PI
  const image = Math.max(2 * depthM, radiusM)
  const own = 1 / agm(Math.hypot(acrossM, radiusM), radiusM)
  return ((own + 1 / agm(Math.hypot(acrossM, image), image)) * soilOhmM) / (4 * Math.PI)
}

/** Arithmetic-geometric mean: converges quadratically, six steps for a ratio of a million. */
function agm(a: number, b: number): number {
  while (Math.abs(a - b) > 1e-15 * a) [a, b] = [(a + b) / 2, Math.sqrt(a * b)]
  return a
}

function assertPositive(...values: readonly number[]): void {
  for (const value of values) {
    assert(Number.isFinite(value) && value > 0, `${value} is no size of anything buried`)
  }
}
