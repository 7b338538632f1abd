import { localPlane, type Anchor, type Geographic } from '../files/geo/localPlane.ts'
import type { HereMark } from '../state/mapMarks.ts'
import { describeFarAway, describeHere, hereTexts } from '../text/hereText.ts'
import type { Units } from '../text/units.ts'

/** Beyond this from the origin of the drawing the device is at no place of the site. */
const farM = 10_000
const patienceMs = 30_000

/** Where the device is on a map that has a geographic anchor: asked for at each press, and forgotten with the page. */
export class WhereAmI {
  readonly #geolocation: Geolocation | undefined
  readonly #say: (sentence: string) => void
  #mark = $state.raw<HereMark | null>(null)
  /** Counts up, so that an answer that comes late is not shown. */
  #asked = 0

  constructor(geolocation: Geolocation | undefined, say: (sentence: string) => void) {
    this.#geolocation = geolocation
    this.#say = say
  }

  get mark(): HereMark | null {
    return this.#mark
  }

  hide(): void {
    this.#asked += 1
    this.#mark = null
  }

  ask(anchor: Anchor, units: Units): void {
    this.hide()
    const asked = this.#asked
    if (!this.#geolocation) return this.#say(hereTexts.none)
    this.#say(hereTexts.asking)
    this.#geolocation.getCurrentPosition(
      ({ coords }) => {
        if (asked === this.#asked) this.#show(coords, anchor, units)
      },
      ({ code, PERMISSION_DENIED, TIMEOUT }) => {
        if (asked !== this.#asked) return
        this.#say(
          code === PERMISSION_DENIED
            ? hereTexts.refused
            : code === TIMEOUT
              ? hereTexts.late
              : hereTexts.unknown,
        )
      },
      { enableHighAccuracy: true, timeout: patienceMs, maximumAge: 0 },
    )
  }

  #show({ latitude, longitude, accuracy }: GeolocationCoordinates, anchor: Anchor, units: Units): void {
    const place = { latitudeDeg: latitude, longitudeDeg: longitude }
    const distanceM = roughDistanceM(anchor, place)
    if (distanceM > farM) return this.#say(describeFarAway(distanceM, units))
    const atM = localPlane(anchor).toPlan(place)
    this.#mark = { atM, accuracyM: accuracy }
    this.#say(describeHere(accuracy, units))
  }
}

/** On a sphere of the earth's mean radius (6371 km), by the haversine formula: half a percent off at most. */
function roughDistanceM(a: Geographic, b: Geographic): number {
  const toRad = Math.PI / 180
  const halfSquare = (deg: number) => Math.sin((deg * toRad) / 2) ** 2
  const cosines = Math.cos(a.latitudeDeg * toRad) * Math.cos(b.latitudeDeg * toRad)
  const across = halfSquare(b.longitudeDeg - a.longitudeDeg) * cosines
  return 2 * 6_371_000 * Math.asin(Math.sqrt(Math.min(1, halfSquare(b.latitudeDeg - a.latitudeDeg) + across)))
}
