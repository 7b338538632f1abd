import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { localPlane, middleAnchor, wrappedDeg } from '../../src/files/geo/localPlane.ts'

const anchorAt = (latitudeDeg: number, longitudeDeg = 0, bearingDeg = 0) => ({
  latitudeDeg,
  longitudeDeg,
  bearingDeg,
})

/** Kilometres in one degree, from a thousandth of a degree across the anchor, where the plane touches. */
function degreeKm(latitudeDeg: number) {
  const plane = localPlane(anchorAt(latitudeDeg))
  const half = 0.0005
  const north = plane.toPlan({ latitudeDeg: latitudeDeg + half, longitudeDeg: 0 })
  const south = plane.toPlan({ latitudeDeg: latitudeDeg - half, longitudeDeg: 0 })
  const east = plane.toPlan({ latitudeDeg, longitudeDeg: half })
  const west = plane.toPlan({ latitudeDeg, longitudeDeg: -half })
  return { latitude: north.y - south.y, longitude: east.x - west.x }
}

describe('the length of a degree on WGS 84', () => {
  // Tables of the length of a degree on the WGS 84 ellipsoid, as printed in handbooks of navigation to the metre;
  // figures from memory.
  it.each([
    [0, 110.574, 111.32],
    [15, 110.649, 107.55],
    [30, 110.852, 96.486],
    [45, 111.132, 78.847],
    [60, 111.412, 55.8],
    [75, 111.618, 28.902],
  ])('at %d° is %d km of latitude and %d km of longitude', (at, latitudeKm, longitudeKm) => {
    const { latitude, longitude } = degreeKm(at)
    expect(Math.abs(latitude - latitudeKm)).toBeLessThan(0.0006)
    expect(Math.abs(longitude - longitudeKm)).toBeLessThan(0.0006)
  })
})

describe('the orthographic projection of the ellipsoid', () => {
  // IOGP Publication 373-7-2 (Coordinate Conversions and Transformations including Formulas), section on method
  // 9840 Orthographic, worked example on WGS 84: origin 55° N 5° E. Figures from memory.
  it('gives the worked example of its publication', () => {
    const plane = localPlane(anchorAt(55, 5))
    const place = { latitudeDeg: 53 + 48 / 60 + 33.82 / 3600, longitudeDeg: 2 + 7 / 60 + 46.38 / 3600 }
    const at = plane.toPlan(place)
    expect(at.x).toBeCloseTo(-189011.711, 2)
    expect(at.y).toBeCloseTo(-128640.567, 2)
    const back = plane.toGeographic(at)
    expect(back.latitudeDeg).toBeCloseTo(place.latitudeDeg, 11)
    expect(back.longitudeDeg).toBeCloseTo(place.longitudeDeg, 11)
  })

  it('is east and north of the frame that stands on the ellipsoid at the anchor (earth-centred coordinates)', () => {
    const a = 6378137
    const e2 = 0.00669437999014 // first eccentricity squared of WGS 84
    const centred = (latitudeDeg: number, longitudeDeg: number) => {
      const [f, l] = [(latitudeDeg * Math.PI) / 180, (longitudeDeg * Math.PI) / 180]
      const n = a / Math.sqrt(1 - e2 * Math.sin(f) ** 2)
      return [n * Math.cos(f) * Math.cos(l), n * Math.cos(f) * Math.sin(l), n * (1 - e2) * Math.sin(f)]
    }
    const [f, l] = [(-33.4 * Math.PI) / 180, (151.2 * Math.PI) / 180]
    const from = centred(-33.4, 151.2)
    const d = centred(-33.37, 151.25).map((v, k) => v - from[k])
    const east = -Math.sin(l) * d[0] + Math.cos(l) * d[1]
    const north = -Math.sin(f) * Math.cos(l) * d[0] - Math.sin(f) * Math.sin(l) * d[1] + Math.cos(f) * d[2]
    const at = localPlane(anchorAt(-33.4, 151.2)).toPlan({ latitudeDeg: -33.37, longitudeDeg: 151.25 })
    expect(at.x).toBeCloseTo(east, 5)
    expect(at.y).toBeCloseTo(north, 5)
  })
})

describe('lengths from the anchor', () => {
  it('come out short by d³ / 6R²: 0.5 mm at 5 km', () => {
    // along a meridian the true length is the integral of the radius of curvature
    const [a, e2] = [6378137, 0.00669437999014]
    const radius = (f: number) => (a * (1 - e2)) / (1 - e2 * Math.sin(f) ** 2) ** 1.5
    const from = (40 * Math.PI) / 180
    const angle = 5000 / radius(from)
    let arcM = 0
    const steps = 2000
    for (let k = 0; k < steps; k++) arcM += (radius(from + (angle * (k + 0.5)) / steps) * angle) / steps
    const at = localPlane(anchorAt(40)).toPlan({
      latitudeDeg: ((from + angle) * 180) / Math.PI,
      longitudeDeg: 0,
    })
    expect(arcM - at.y).toBeGreaterThan(0.0004)
    expect(arcM - at.y).toBeLessThan(0.0006)
  })
})

describe('there and back', () => {
  it('is the same place to a thousandth of a millimetre, anywhere, at any bearing, over 20 km', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -89, max: 89, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 359.9, noNaN: true }),
        fc.double({ min: -10_000, max: 10_000, noNaN: true }),
        fc.double({ min: -10_000, max: 10_000, noNaN: true }),
        (latitudeDeg, longitudeDeg, bearingDeg, x, y) => {
          const plane = localPlane({ latitudeDeg, longitudeDeg, bearingDeg })
          const back = plane.toPlan(plane.toGeographic({ x, y }))
          expect(Math.hypot(back.x - x, back.y - y)).toBeLessThan(1e-6)
        },
      ),
      { seed: 7, numRuns: 500 },
    )
  })

  it('crosses the antimeridian without a jump', () => {
    const plane = localPlane(anchorAt(-17, 179.999))
    const at = plane.toPlan({ latitudeDeg: -17, longitudeDeg: -179.999 })
    expect(at.x).toBeCloseTo(0.002 * 106_487, -1)
    expect(plane.toGeographic(at).longitudeDeg).toBeCloseTo(-179.999, 9)
    expect(wrappedDeg(180)).toBe(-180)
    const places = [
      { latitudeDeg: -17, longitudeDeg: 179.998 },
      { latitudeDeg: -17.002, longitudeDeg: -179.998 },
    ]
    expect(middleAnchor(places)?.latitudeDeg).toBe(-17.001)
    expect(Math.abs(middleAnchor(places)!.longitudeDeg)).toBe(180)
    expect(middleAnchor([])).toBeNull()
  })
})
