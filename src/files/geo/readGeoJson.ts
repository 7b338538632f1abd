import { fail, ok } from '../../base/result.ts'
import type { Result } from '../../base/result.ts'
import { limits } from '../../model/limits.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import { describeFound } from '../../model/shape/describeFound.ts'
import { mostTroubles } from '../importPlan.ts'
import { parseJson } from '../parseJson.ts'
import type { Anchor, Geographic } from './localPlane.ts'
import { middleAnchor } from './localPlane.ts'

export type Shape = 'point' | 'line' | 'polygon'
export type Properties = Readonly<Record<string, unknown>>
type Path = readonly (string | number)[]

/** One geometry of the file; those of a Multi… or a collection stand each by itself, with the properties of their feature. */
export interface GeoThing {
  /** Number of its feature, from 1. */
  readonly number: number
  readonly path: Path
  readonly shape: Shape
  /** Of a polygon the outer ring, without the last position that closes it. */
  readonly places: readonly Geographic[]
  readonly properties: Properties
}

export interface GeoThings {
  readonly things: readonly GeoThing[]
  readonly troubles: readonly Problem[]
  /** Features with something wrong. */
  readonly wrong: number
  /** Features of the file. */
  readonly total: number
  /** Features without a geometry, which RFC 7946 allows. */
  readonly unlocated: number
  /** Holes of polygons that were left out. */
  readonly holes: number
  /** The file names a reference system of its own, which RFC 7946 does not know. */
  readonly namesOtherSystem: boolean
  /** Names of properties with texts or numbers, most frequent first. */
  readonly propertyNames: readonly string[]
  readonly middle: Anchor | null
}

const mostThings = 200_000
const mostNames = 50
const featuresAtOnce = 500

const shapes: ReadonlyMap<string, { readonly shape: Shape; readonly isMany: boolean }> = new Map([
  ['Point', { shape: 'point', isMany: false }],
  ['MultiPoint', { shape: 'point', isMany: true }],
  ['LineString', { shape: 'line', isMany: false }],
  ['MultiLineString', { shape: 'line', isMany: true }],
  ['Polygon', { shape: 'polygon', isMany: false }],
  ['MultiPolygon', { shape: 'polygon', isMany: true }],
])

interface Reader {
  readonly things: GeoThing[]
  readonly troubles: Problem[]
  readonly wrongFeatures: Set<number>
  readonly nameCounts: Map<string, number>
  holes: number
}

/**
 * Geometries of a GeoJSON document (RFC 7946): a FeatureCollection, a Feature or a geometry. A feature with something wrong
 * gives nothing and is told by its place in the document; heights are left out. Yields the fraction done. O(bytes).
 */
export function* readGeoJson(bytes: Uint8Array): Generator<number, Result<GeoThings, readonly Problem[]>> {
  yield 0
  const parsed = parseJson(bytes)
  if (!parsed.ok) return parsed
  yield 0.5
  const features = featuresOf(parsed.value)
  if (features === null) return fail([problem('file.notGeoJson', { found: foundType(parsed.value) })])
  if (features.length > mostThings) {
    return fail([problem('size.tooMany', { what: 'features', found: features.length, most: mostThings })])
  }
  const reader: Reader = {
    things: [],
    troubles: [],
    wrongFeatures: new Set(),
    nameCounts: new Map(),
    holes: 0,
  }
  let unlocated = 0
  for (const [k, { value, path }] of features.entries()) {
    if (readFeature(reader, value, path, k + 1) === 'unlocated') unlocated++
    if (reader.things.length > mostThings) {
      const facts = { what: 'points, lines and polygons', found: reader.things.length, most: mostThings }
      return fail([problem('size.tooMany', facts)])
    }
    if (k % featuresAtOnce === 0) yield 0.5 + (0.5 * k) / features.length
  }
  const names = [...reader.nameCounts].sort((a, b) => b[1] - a[1]).slice(0, mostNames)
  return ok({
    things: reader.things,
    troubles: reader.troubles,
    wrong: reader.wrongFeatures.size,
    total: features.length,
    unlocated,
    holes: reader.holes,
    namesOtherSystem: hasOtherSystem(parsed.value),
    propertyNames: names.map(([name]) => name),
    middle: middleAnchor(placesOf(reader.things)),
  })
}

function* placesOf(things: readonly GeoThing[]): Generator<Geographic> {
  for (const { places } of things) yield* places
}

function isObject(value: unknown): value is Properties {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/** A value that the document itself gives under a name, never one of the language's own. */
export function ownValue(value: unknown, name: string): unknown {
  return isObject(value) && Object.hasOwn(value, name) ? value[name] : undefined
}

function foundType(value: unknown): string {
  const type = ownValue(value, 'type')
  return describeFound(isObject(value) ? type : value)
}

/** A bare geometry stands for a feature without properties. */
function featuresOf(value: unknown): { readonly value: unknown; readonly path: Path }[] | null {
  const type = ownValue(value, 'type')
  if (type === 'FeatureCollection') {
    const features = ownValue(value, 'features')
    if (!Array.isArray(features)) return null
    return features.map((feature: unknown, k) => ({ value: feature, path: ['features', k] }))
  }
  if (type === 'Feature') return [{ value, path: [] }]
  if (typeof type !== 'string' || (type !== 'GeometryCollection' && !shapes.has(type))) return null
  return [{ value: { type: 'Feature', properties: null, geometry: value }, path: [] }]
}

/** Editions before RFC 7946 let a file name its own reference system. */
function hasOtherSystem(value: unknown): boolean {
  const system = ownValue(value, 'crs')
  if (system === undefined || system === null) return false
  const name = ownValue(ownValue(system, 'properties'), 'name')
  return !(typeof name === 'string' && /(CRS84|EPSG:+4326)$/i.test(name))
}

function readFeature(reader: Reader, value: unknown, path: Path, number: number): 'read' | 'unlocated' {
  const before = { things: reader.things.length, holes: reader.holes }
  const wrong: Problem[] = []
  const geometry = ownValue(value, 'geometry')
  if (ownValue(value, 'type') !== 'Feature') {
    const found = describeFound(isObject(value) ? ownValue(value, 'type') : value)
    wrong.push(problem('value.wrong', { expected: 'a Feature', found }, { path }))
  } else if (geometry === null) {
    return 'unlocated'
  } else {
    const given = ownValue(value, 'properties')
    const properties = isObject(given) ? given : {}
    readGeometry(reader, wrong, geometry, [...path, 'geometry'], { number, properties })
    if (wrong.length === 0) countNames(reader, properties)
  }
  if (wrong.length > 0) {
    reader.things.length = before.things
    reader.holes = before.holes
    reader.wrongFeatures.add(number)
    // one is enough to find the feature: what follows is usually the same mistake again
    if (reader.troubles.length < mostTroubles) reader.troubles.push(wrong[0])
  }
  return 'read'
}

function countNames({ nameCounts }: Reader, properties: Properties): void {
  for (const [name, value] of Object.entries(properties)) {
    if (typeof value !== 'string' && typeof value !== 'number') continue
    if (nameCounts.has(name) || nameCounts.size < 10 * mostNames) {
      nameCounts.set(name, (nameCounts.get(name) ?? 0) + 1)
    }
  }
}

function readGeometry(
  reader: Reader,
  wrong: Problem[],
  geometry: unknown,
  path: Path,
  feature: Pick<GeoThing, 'number' | 'properties'>,
): void {
  const type = ownValue(geometry, 'type')
  if (type === 'GeometryCollection') {
    const parts = ownValue(geometry, 'geometries')
    if (!Array.isArray(parts)) return noteWrong(wrong, 'a list of geometries', parts, [...path, 'geometries'])
    parts.forEach((part: unknown, k) => {
      if (wrong.length === 0) readGeometry(reader, wrong, part, [...path, 'geometries', k], feature)
    })
    return
  }
  const known = typeof type === 'string' ? shapes.get(type) : undefined
  if (!known) return noteWrong(wrong, 'a geometry of RFC 7946', isObject(geometry) ? type : geometry, path)
  const coordinates = ownValue(geometry, 'coordinates')
  const at = [...path, 'coordinates']
  if (!known.isMany) return addThing(reader, wrong, known.shape, coordinates, at, feature)
  if (!Array.isArray(coordinates)) return noteWrong(wrong, 'a list of coordinates', coordinates, at)
  coordinates.forEach((part: unknown, k) => {
    if (wrong.length === 0) addThing(reader, wrong, known.shape, part, [...at, k], feature)
  })
}

function addThing(
  reader: Reader,
  wrong: Problem[],
  shape: Shape,
  coordinates: unknown,
  path: Path,
  feature: Pick<GeoThing, 'number' | 'properties'>,
): void {
  if (reader.things.length > mostThings) return
  const places =
    shape === 'point'
      ? [readPosition(wrong, coordinates, path)]
      : shape === 'line'
        ? readPositions(wrong, coordinates, path, 2)
        : readRing(reader, wrong, coordinates, path)
  const read = places.filter((place) => place !== null)
  if (wrong.length === 0) reader.things.push({ ...feature, path, shape, places: read })
}

function readRing(reader: Reader, wrong: Problem[], rings: unknown, path: Path): (Geographic | null)[] {
  if (!Array.isArray(rings) || rings.length === 0) {
    noteWrong(wrong, 'a list of rings', rings, path)
    return []
  }
  const at = [...path, 0]
  const places = readPositions(wrong, rings[0], at, 4)
  const [first, last] = [places[0], places.at(-1)]
  if (wrong.length > 0 || !first || !last) return []
  if (first.latitudeDeg !== last.latitudeDeg || first.longitudeDeg !== last.longitudeDeg) {
    noteWrong(wrong, 'a ring whose last position is its first', 'another one', at)
    return []
  }
  reader.holes += rings.length - 1
  return places.slice(0, -1)
}

function readPositions(wrong: Problem[], list: unknown, path: Path, least: number): (Geographic | null)[] {
  if (!Array.isArray(list) || list.length < least) {
    noteWrong(wrong, `${least} positions or more`, Array.isArray(list) ? `${list.length}` : list, path)
    return []
  }
  if (list.length > limits.pointsPerPath + 1) {
    const facts = { what: 'positions in one line', found: list.length, most: limits.pointsPerPath }
    wrong.push(problem('size.tooMany', facts, { path }))
    return []
  }
  return list.map((position: unknown, k) =>
    wrong.length > 0 ? null : readPosition(wrong, position, [...path, k]),
  )
}

function readPosition(wrong: Problem[], position: unknown, path: Path): Geographic | null {
  const [longitudeDeg, latitudeDeg] = Array.isArray(position) ? (position as unknown[]) : []
  if (typeof longitudeDeg !== 'number' || typeof latitudeDeg !== 'number') {
    noteWrong(wrong, 'a position [longitude, latitude] in degrees', position, path)
    return null
  }
  if (Math.abs(longitudeDeg) <= 180 && Math.abs(latitudeDeg) <= 90) return { latitudeDeg, longitudeDeg }
  const isGrid = Math.abs(longitudeDeg) > 360 || Math.abs(latitudeDeg) > 360
  const expected = isGrid
    ? 'degrees of WGS 84, not metres of a map grid; export the drawing with latitude and longitude'
    : 'longitude first, −180 to 180, then latitude, −90 to 90'
  wrong.push(problem('value.outOfRange', { expected, found: `${longitudeDeg}, ${latitudeDeg}` }, { path }))
  return null
}

function noteWrong(wrong: Problem[], expected: string, found: unknown, path: Path): void {
  const words = typeof found === 'string' ? `“${found}”` : describeFound(found)
  wrong.push(problem('value.wrong', { expected, found: words }, { path }))
}
