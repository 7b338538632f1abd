import type { SiteFacts } from '../../model/schema/drawing.ts'
import type { PointM } from '../../model/schema/primitives.ts'

export type Anchor = NonNullable<SiteFacts['anchor']>

/** A place on the ellipsoid WGS 84, in degrees. */
export interface Geographic {
  readonly latitudeDeg: number
  readonly longitudeDeg: number
}

/** From degrees to the metres of a drawing and back. */
export interface LocalPlane {
  toPlan(place: Geographic): PointM
  toGeographic(at: PointM): Geographic
}

/** WGS 84 (EPSG ellipsoid 7030): semi-major axis and flattening. */
const semiMajorM = 6_378_137
const flattening = 1 / 298.257223563
const e2 = flattening * (2 - flattening)

const toRad = Math.PI / 180
/** Two or three steps reach the last digits from anywhere within a site's reach. */
const mostSteps = 20

/** Radius of curvature in the prime vertical, and in the meridian. */
const primeVerticalM = (sinLatitude: number) => semiMajorM / Math.sqrt(1 - e2 * sinLatitude * sinLatitude)
const meridianM = (sinLatitude: number) =>
  (semiMajorM * (1 - e2)) / (1 - e2 * sinLatitude * sinLatitude) ** 1.5

/** The same longitude within −180 … 180: a difference then is the short way round. */
export function wrappedDeg(longitudeDeg: number): number {
  const turned = (((longitudeDeg + 180) % 360) + 360) % 360
  return turned - 180
}

/**
 * The plane that touches the ellipsoid at the anchor: orthographic projection of the ellipsoid (IOGP 373-7-2, EPSG method
 * 9840; the same as east and north of a topocentric frame for places of height 0). y runs along the anchor's bearing,
 * x to the right of it.
 *
 * Lengths from the anchor come out short by d³ / 6R²: 0.5 mm at 5 km, 4 mm at 10 km. Heights are not looked at: on a
 * site h metres up, lengths on the ground are longer by h / R, which is 0.16 mm in each metre per 1000 m.
 */
export function localPlane({ latitudeDeg, longitudeDeg, bearingDeg }: Anchor): LocalPlane {
  const sin0 = Math.sin(latitudeDeg * toRad)
  const cos0 = Math.cos(latitudeDeg * toRad)
  const radius0 = primeVerticalM(sin0)
  const sinTurn = Math.sin(bearingDeg * toRad)
  const cosTurn = Math.cos(bearingDeg * toRad)

  const project = (latitude: number, longitudeFrom0: number) => {
    const sin = Math.sin(latitude)
    const cos = Math.cos(latitude)
    const radius = primeVerticalM(sin)
    const east = radius * cos * Math.sin(longitudeFrom0)
    // 1 − cos as 2 sin², which keeps the digits near the anchor
    const versine = 2 * Math.sin(longitudeFrom0 / 2) ** 2
    const north =
      radius * (sin * cos0 - cos * sin0) +
      radius * cos * sin0 * versine +
      e2 * (radius0 * sin0 - radius * sin) * cos0
    return { east, north }
  }

  return {
    toPlan(place) {
      const longitude = wrappedDeg(place.longitudeDeg - longitudeDeg) * toRad
      const { east, north } = project(place.latitudeDeg * toRad, longitude)
      return { x: east * cosTurn - north * sinTurn, y: east * sinTurn + north * cosTurn }
    },
    toGeographic({ x, y }) {
      const east = x * cosTurn + y * sinTurn
      const north = -x * sinTurn + y * cosTurn
      let latitude = latitudeDeg * toRad + north / meridianM(sin0)
      let longitude = 0
      for (let step = 0; step < mostSteps; step++) {
        const sin = Math.sin(latitude)
        const across = primeVerticalM(sin) * Math.cos(latitude)
        longitude = Math.asin(Math.min(Math.max(east / across, -1), 1))
        const missing = north - project(latitude, longitude).north
        // slope of north along the meridian of the place, with the longitude that keeps east
        const slope = meridianM(sin) / Math.max(Math.cos(longitude), 0.1)
        latitude += missing / slope
        if (Math.abs(missing) < 1e-9) break
      }
      return {
        latitudeDeg: latitude / toRad,
        longitudeDeg: wrappedDeg(longitudeDeg + longitude / toRad),
      }
    },
  }
}

/** What the GeoJSON of a site is written with: 10⁻⁹ degrees are 0.11 mm. */
export function roundedDeg(degrees: number): number {
  return Math.round(degrees * 1e9) / 1e9
}

/** The middle of places that lie near each other, also on both sides of the antimeridian; bearing 0. */
export function middleAnchor(places: Iterable<Geographic>): Anchor | null {
  let first: Geographic | null = null
  let south = 0
  let north = 0
  let west = 0
  let east = 0
  for (const place of places) {
    if (first === null) {
      first = place
      south = north = place.latitudeDeg
      continue
    }
    const across = wrappedDeg(place.longitudeDeg - first.longitudeDeg)
    south = Math.min(south, place.latitudeDeg)
    north = Math.max(north, place.latitudeDeg)
    west = Math.min(west, across)
    east = Math.max(east, across)
  }
  if (first === null) return null
  const round = (degrees: number) => Math.round(degrees * 1e7) / 1e7
  return {
    latitudeDeg: round((south + north) / 2),
    longitudeDeg: round(wrappedDeg(first.longitudeDeg + (west + east) / 2)),
    bearingDeg: 0,
  }
}
