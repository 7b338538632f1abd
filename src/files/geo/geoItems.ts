import type { DrawnItems } from '../../model/edits/addDrawn.ts'
import { limits } from '../../model/limits.ts'
import { materialIds } from '../../model/materials.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { cleanLabel } from '../cleanLabel.ts'
import { positiveDeg } from '../tables/placedRows.ts'
import type { GeoChoices, GeoKind } from './geoChoices.ts'
import type { GeoThing, Properties } from './readGeoJson.ts'
import { ownValue } from './readGeoJson.ts'

/** Items found so far. */
export type Collected = {
  -readonly [K in Exclude<keyof DrawnItems, 'anchor'>]: DrawnItems[K][number][]
}

/** A text or number under the first of these names that the file gives; else empty. */
export function textOf(properties: Properties, names: readonly string[]): string {
  for (const name of names) {
    const value = ownValue(properties, name)
    if (typeof value === 'string' || typeof value === 'number') return cleanLabel(String(value))
  }
  return ''
}

/** A finite number, also one that stands as a text; null where there is none. */
export function numberOf(properties: Properties, names: readonly string[]): number | null {
  for (const name of names) {
    const value = ownValue(properties, name)
    const number = typeof value === 'string' && value.trim() !== '' ? Number(value) : value
    if (typeof number === 'number' && Number.isFinite(number)) return number
  }
  return null
}

export const labelOf = (properties: Properties) =>
  textOf(properties, ['label', 'name', 'Name', 'title', 'id'])

export function itemProblem({ path }: GeoThing, expected: string, found: string): Problem {
  return problem('value.wrong', { expected, found }, { path })
}

/** A size from the file, or the one chosen; a problem where the file's is none. */
function sizeOf(thing: GeoThing, name: string, chosen: number, most: number): number | Problem {
  const value = numberOf(thing.properties, [name]) ?? chosen
  if (value > 0 && value <= most) return value
  return itemProblem(thing, `“${name}” above 0 and at most ${most}`, `${value}`)
}

/** A way without its last point where that closes it. */
function wayOf(points: readonly PointM[], { places }: GeoThing) {
  const [first, last] = [places[0], places[places.length - 1]]
  const closed =
    points.length > 3 && first.latitudeDeg === last.latitudeDeg && first.longitudeDeg === last.longitudeDeg
  return { closed, way: closed ? points.slice(0, -1) : points }
}

/** Adds a thing that is drawn by itself, or says why it cannot be. */
export function equipmentOf(
  collected: Collected,
  thing: GeoThing,
  kind: GeoKind,
  points: readonly PointM[],
  choices: GeoChoices,
): Problem | null {
  const label = labelOf(thing.properties)
  const [atM] = points
  switch (kind) {
    case 'earthBar':
      collected.earthBars.push({ label, atM })
      return null
    case 'enclosure':
      return addEnclosure(collected, thing, atM, choices)
    case 'electrode':
      return thing.shape === 'point'
        ? addRod(collected, thing, atM, choices)
        : addStrip(collected, thing, points, choices)
    case 'conductor':
      return addConductor(collected, thing, points, choices)
    case 'aisle':
      collected.aisles.push({ pathM: points })
      return null
    case 'obstacle':
      collected.obstacles.push({ name: label, outlineM: points })
      return null
    default:
      return itemProblem(thing, 'something that is drawn', kind)
  }
}

function addEnclosure(
  collected: Collected,
  thing: GeoThing,
  atM: PointM,
  choices: GeoChoices,
): Problem | null {
  const widthM = sizeOf(thing, 'widthM', choices.enclosureWidthM, 1000)
  const depthM = sizeOf(thing, 'depthM', choices.enclosureDepthM, 1000)
  if (typeof widthM !== 'number') return widthM
  if (typeof depthM !== 'number') return depthM
  const trueDeg = numberOf(thing.properties, ['bearing', 'bearingDeg']) ?? choices.anchor.bearingDeg
  const bearingDeg = positiveDeg(trueDeg - choices.anchor.bearingDeg)
  collected.enclosures.push({ label: labelOf(thing.properties), atM, widthM, depthM, bearingDeg })
  return null
}

function measuredOf(thing: GeoThing): number | null {
  const measured = numberOf(thing.properties, ['measuredOhm'])
  return measured !== null && measured > 0 && measured <= limits.readingOhm ? measured : null
}

function addRod(collected: Collected, thing: GeoThing, atM: PointM, choices: GeoChoices): Problem | null {
  const both = { label: labelOf(thing.properties), measuredOhm: measuredOf(thing) }
  if (ownValue(thing.properties, 'form') === 'plate') {
    const areaM2 = sizeOf(thing, 'areaM2', 0.5, 1000)
    const depthM = sizeOf(thing, 'depthM', choices.stripDepthM, 1000)
    if (typeof areaM2 !== 'number') return areaM2
    if (typeof depthM !== 'number') return depthM
    collected.electrodes.push({ ...both, form: 'plate', atM, areaM2, depthM })
    return null
  }
  const lengthM = sizeOf(thing, 'lengthM', choices.rodLengthM, 1000)
  const diameterM = sizeOf(thing, 'diameterM', choices.rodDiameterM, 10)
  if (typeof lengthM !== 'number') return lengthM
  if (typeof diameterM !== 'number') return diameterM
  collected.electrodes.push({ ...both, form: 'rod', atM, lengthM, diameterM })
  return null
}

function addStrip(
  collected: Collected,
  thing: GeoThing,
  points: readonly PointM[],
  choices: GeoChoices,
): Problem | null {
  const diameterM = sizeOf(thing, 'diameterM', choices.stripDiameterM, 10)
  const depthM = sizeOf(thing, 'depthM', choices.stripDepthM, 1000)
  if (typeof diameterM !== 'number') return diameterM
  if (typeof depthM !== 'number') return depthM
  const { closed, way } = wayOf(points, thing)
  if (!hasLength(way)) return itemProblem(thing, 'a line with a length', 'all its points in one place')
  const both = { label: labelOf(thing.properties), measuredOhm: measuredOf(thing) }
  collected.electrodes.push({ ...both, form: 'strip', pathM: way, closed, diameterM, depthM })
  return null
}

function addConductor(
  collected: Collected,
  thing: GeoThing,
  points: readonly PointM[],
  choices: GeoChoices,
): Problem | null {
  const areaMm2 = sizeOf(thing, 'areaMm2', choices.areaMm2, 1_000_000)
  if (typeof areaMm2 !== 'number') return areaMm2
  const named = textOf(thing.properties, ['material'])
  const material = materialIds.find((id) => id === named) ?? choices.material
  const { closed, way } = wayOf(points, thing)
  if (!hasLength(way)) return itemProblem(thing, 'a line with a length', 'all its points in one place')
  collected.conductors.push({
    label: labelOf(thing.properties),
    material,
    areaMm2,
    size: null,
    closed,
    points: way.map((atM) => ({ atM, landing: null })),
    lengthM: null,
  })
  return null
}

function hasLength([first, ...rest]: readonly PointM[]): boolean {
  return rest.some(({ x, y }) => x !== first.x || y !== first.y)
}
