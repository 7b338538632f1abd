import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { ExportPiece } from '../exportPiece.ts'
import { linesInPiece } from '../exportPiece.ts'
import { drawnTables } from '../tables/writeTables.ts'
import { positiveDeg } from '../tables/placedRows.ts'
import type { Anchor, LocalPlane } from './localPlane.ts'
import { localPlane, roundedDeg } from './localPlane.ts'

type Position = readonly [number, number]
type Geometry =
  | { readonly type: 'Point'; readonly coordinates: Position }
  | { readonly type: 'LineString'; readonly coordinates: readonly Position[] }
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly Position[])[] }

interface Feature {
  readonly geometry: Geometry
  readonly properties: Readonly<Record<string, unknown>>
}

/** How many features a site has. */
export function countFeatures(index: SiteIndex): number {
  const { enclosures, earthBars, electrodes, conductors, aisles, obstacles } = index.drawing
  const items = [enclosures, earthBars, electrodes, conductors, aisles, obstacles]
  return index.tableCount + items.reduce((sum, { length }) => sum + length, 0)
}

/**
 * The site as GeoJSON (RFC 7946): tables as outlines, the rest as points, lines and outlines, with `kind` and what is
 * needed to read it back. One feature a line; positions to 10⁻⁹ degrees, which is 0.11 mm. Yields stretches of the file.
 */
export function* writeGeoJson(index: SiteIndex, anchor: Anchor): Generator<ExportPiece, void> {
  const total = countFeatures(index)
  let text = '{"type":"FeatureCollection","features":['
  let done = 0
  for (const { geometry, properties } of featuresOf(index, anchor)) {
    text += `${done === 0 ? '\n' : ',\n'}${JSON.stringify({ type: 'Feature', geometry, properties })}`
    done++
    if (done % linesInPiece !== 0) continue
    yield { text, fraction: done / total }
    text = ''
  }
  yield { text: `${text}\n]}\n`, fraction: 1 }
}

function* featuresOf(index: SiteIndex, anchor: Anchor): Generator<Feature> {
  const plane = localPlane(anchor)
  const trueDeg = (bearingDeg: number) =>
    positiveDeg(Math.round((bearingDeg + anchor.bearingDeg) * 1e8) / 1e8)
  for (const table of drawnTables(index)) {
    const { x, y, along, up } = table
    const corners = [
      { x, y },
      { x: x + along.x, y: y + along.y },
      { x: x + along.x + up.x, y: y + along.y + up.y },
      { x: x + up.x, y: y + up.y },
    ]
    yield {
      geometry: polygon(plane, corners),
      properties: {
        kind: 'table',
        address: table.address,
        row: table.rowLabel === '' ? `R${table.row}` : table.rowLabel,
        table: table.table,
        label: table.label,
        tableType: table.type,
        typeName: table.typeName,
        bearing: trueDeg(table.bearingDeg),
      },
    }
  }
  yield* equipment(index, plane, trueDeg)
}

function* equipment(
  { drawing }: SiteIndex,
  plane: LocalPlane,
  trueDeg: (bearingDeg: number) => number,
): Generator<Feature> {
  for (const { id, label, atM, widthM, depthM, bearingDeg } of drawing.enclosures) {
    const properties = {
      kind: 'enclosure',
      address: `E${id}`,
      label,
      widthM,
      depthM,
      bearing: trueDeg(bearingDeg),
    }
    yield { geometry: point(plane, atM), properties }
  }
  for (const { id, label, atM } of drawing.earthBars) {
    yield { geometry: point(plane, atM), properties: { kind: 'earthBar', address: `B${id}`, label } }
  }
  for (const electrode of drawing.electrodes) {
    const { id, label, form, measuredOhm } = electrode
    const both = { kind: 'electrode', address: `G${id}`, label, form, measuredOhm }
    if (electrode.form === 'strip') {
      const { diameterM, depthM, pathM, closed } = electrode
      yield { geometry: line(plane, pathM, closed), properties: { ...both, diameterM, depthM } }
    } else if (electrode.form === 'plate') {
      const { areaM2, depthM, atM } = electrode
      yield { geometry: point(plane, atM), properties: { ...both, areaM2, depthM } }
    } else {
      const { lengthM, diameterM, atM } = electrode
      yield { geometry: point(plane, atM), properties: { ...both, lengthM, diameterM } }
    }
  }
  for (const { id, label, material, areaMm2, size, points, closed } of drawing.conductors) {
    const landings = points.flatMap(({ landing }) => (landing ? [landing.part] : []))
    const properties = { kind: 'conductor', address: `C${id}`, label, material, areaMm2, size, landings }
    const way = points.map(({ atM }) => atM)
    yield { geometry: line(plane, way, closed), properties }
  }
  for (const { id, pathM } of drawing.aisles) {
    yield { geometry: line(plane, pathM, false), properties: { kind: 'aisle', number: id } }
  }
  for (const { id, name, outlineM } of drawing.obstacles) {
    yield { geometry: polygon(plane, outlineM), properties: { kind: 'obstacle', number: id, label: name } }
  }
}

function position(plane: LocalPlane, at: PointM): Position {
  const { latitudeDeg, longitudeDeg } = plane.toGeographic(at)
  return [roundedDeg(longitudeDeg), roundedDeg(latitudeDeg)]
}

function point(plane: LocalPlane, at: PointM): Geometry {
  return { type: 'Point', coordinates: position(plane, at) }
}

function line(plane: LocalPlane, way: readonly PointM[], closed: boolean): Geometry {
  const coordinates = way.map((at) => position(plane, at))
  return { type: 'LineString', coordinates: closed ? [...coordinates, coordinates[0]] : coordinates }
}

/** The outer ring runs counter-clockwise (RFC 7946, 3.1.6) and ends where it begins. */
function polygon(plane: LocalPlane, outline: readonly PointM[]): Geometry {
  let area = 0
  outline.forEach((at, k) => {
    const next = outline[(k + 1) % outline.length]
    area += at.x * next.y - next.x * at.y
  })
  const ring = (area < 0 ? outline.toReversed() : outline).map((at) => position(plane, at))
  return { type: 'Polygon', coordinates: [[...ring, ring[0]]] }
}
