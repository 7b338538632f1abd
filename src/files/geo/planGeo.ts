import { portion } from '../../base/portion.ts'
import { tableSize } from '../../layout/tableSize.ts'
import type { TableSize } from '../../layout/tableSize.ts'
import type { DrawnItems, NewRow } from '../../model/edits/addDrawn.ts'
import { limits } from '../../model/limits.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { ImportPlan, PreviewLine } from '../importPlan.ts'
import { mostPreview, mostTroubles } from '../importPlan.ts'
import { placedRows, positiveDeg } from '../tables/placedRows.ts'
import type { PlacedTable } from '../tables/placedRows.ts'
import { kindOf } from './geoChoices.ts'
import type { GeoChoices, GeoKind } from './geoChoices.ts'
import { equipmentOf, itemProblem, labelOf, numberOf, textOf } from './geoItems.ts'
import type { Collected } from './geoItems.ts'
import { localPlane } from './localPlane.ts'
import type { LocalPlane } from './localPlane.ts'
import { rectangleSides, tableInOutline } from './outlineTable.ts'
import type { GeoThing, GeoThings } from './readGeoJson.ts'

const thingsAtOnce = 500
const straightWithinM = 0.1
const toRad = Math.PI / 180

interface Planning {
  readonly choices: GeoChoices
  readonly plane: LocalPlane
  readonly sizes: ReadonlyMap<string, TableSize>
  readonly typeIds: ReadonlyMap<string, string>
  readonly collected: Collected
  readonly tables: PlacedTable[]
}

/**
 * What a GeoJSON file would add to the drawing: its places in metres of the plane at the anchor. A thing that cannot be taken
 * adds nothing and is told by its place in the document. Yields the fraction done. O(positions + tables log tables).
 */
export function* planGeo(
  file: GeoThings,
  choices: GeoChoices,
  drawing: Drawing,
): Generator<number, ImportPlan> {
  const planning = startPlanning(choices, drawing)
  const { collected } = planning
  const preview: PreviewLine[] = []
  const troubles: Problem[] = [...file.troubles]
  const wrongFeatures = new Set<number>()
  let passedOver = file.unlocated
  for (const [k, thing] of file.things.entries()) {
    const kind = kindOf(thing, choices)
    if (kind === 'leave') passedOver++
    else {
      const taken = take(planning, thing, kind)
      if (!('code' in taken)) {
        if (preview.length < mostPreview) preview.push(taken)
      } else {
        wrongFeatures.add(thing.number)
        if (troubles.length < mostTroubles) troubles.push(taken)
      }
    }
    if (k % thingsAtOnce === 0) yield (0.5 * k) / file.things.length
  }
  let largestMoveM = 0
  if (planning.tables.length > 0) {
    const even = {
      alongM: new Map([...planning.sizes].map(([id, { alongM }]) => [id, alongM])),
      toleranceM: choices.toleranceM,
      gapM: choices.gapM,
      links: choices.links,
      firstNumber: drawing.rows.length + 1,
    }
    const found = yield* portion(placedRows(planning.tables, even), 0.5, 0.5)
    for (const row of found.rows) collected.rows.push(row)
    largestMoveM = found.largestMoveM
  }
  const items: DrawnItems = { ...collected, anchor: choices.anchor }
  const wrong = file.wrong + wrongFeatures.size
  return { items, preview, troubles, wrong, total: file.total, passedOver, largestMoveM }
}

function startPlanning(choices: GeoChoices, { tableTypes }: Drawing): Planning {
  const typeIds = new Map<string, string>()
  for (const { id, name } of tableTypes) {
    typeIds.set(id.toLowerCase(), id)
    typeIds.set(name.trim().toLowerCase(), id)
  }
  return {
    choices,
    plane: localPlane(choices.anchor),
    sizes: new Map(tableTypes.map((type) => [type.id, tableSize(type)])),
    typeIds,
    collected: {
      rows: [],
      enclosures: [],
      earthBars: [],
      electrodes: [],
      conductors: [],
      aisles: [],
      obstacles: [],
    },
    tables: [],
  }
}

/** Takes one thing; what it is understood as, or why it cannot be taken. */
function take(planning: Planning, thing: GeoThing, kind: GeoKind): PreviewLine | Problem {
  const points: PointM[] = []
  for (const place of thing.places) {
    // far from its plane a place would come to lie on the wrong side of the earth
    const isNear = Math.abs(place.latitudeDeg - planning.choices.anchor.latitudeDeg) < 2
    const at = isNear ? planning.plane.toPlan(place) : { x: Infinity, y: Infinity }
    if (Math.max(Math.abs(at.x), Math.abs(at.y)) > limits.coordinateM) {
      const found = `${place.longitudeDeg}, ${place.latitudeDeg}`
      const expected = `a place at most ${limits.coordinateM / 1000} km from that of the site`
      return problem('value.outOfRange', { expected, found }, { path: thing.path })
    }
    points.push(at)
  }
  if (kind === 'table') return takeTable(planning, thing, points)
  if (kind === 'row') return takeRow(planning, thing, points)
  const { choices, collected } = planning
  const wrong = equipmentOf(collected, thing, kind, points, choices)
  if (wrong) return wrong
  return previewLine(thing, kind, points[0], null, null, null)
}

function previewLine(
  { number, properties }: GeoThing,
  kind: GeoKind,
  { x, y }: PointM,
  bearingDeg: number | null,
  tables: number | null,
  type: string | null,
): PreviewLine {
  const what = kind === 'leave' ? 'obstacle' : kind
  return { number, what, label: labelOf(properties), x, y, bearingDeg, tables, type }
}

function typeOf({ choices, typeIds }: Planning, thing: GeoThing): string | Problem {
  const name = textOf(thing.properties, ['tableType', 'table_type', 'type'])
  const named = typeIds.get(name.toLowerCase())
  if (named !== undefined) return named
  return choices.type ?? itemProblem(thing, 'a table type of this site', name === '' ? 'none' : `“${name}”`)
}

/** A bearing in the file is from north; one in the drawing from its y axis. */
function planBearing({ choices }: Planning, trueDeg: number): number {
  return positiveDeg(trueDeg - choices.anchor.bearingDeg)
}

function takeTable(planning: Planning, thing: GeoThing, outline: readonly PointM[]): PreviewLine | Problem {
  const { choices, sizes, tables } = planning
  const type = typeOf(planning, thing)
  if (typeof type !== 'string') return type
  const size = sizes.get(type)!
  const given = numberOf(thing.properties, ['bearing', 'bearingDeg', 'bearing_deg'])
  const bearing = given === null ? null : planBearing(planning, given)
  const placed = tableInOutline(outline, size, bearing, planBearing(planning, choices.facingDeg))
  if (placed === null) {
    const sides = rectangleSides(outline)
    const metres = (value: number) => Number(value.toFixed(2))
    const found = sides ? `${metres(sides.longM)} m by ${metres(sides.shortM)} m` : 'another form'
    const expected = `an outline of ${metres(size.alongM)} m by ${metres(size.upM)} m as seen from above, the table type's size`
    return itemProblem(thing, expected, found)
  }
  const row = textOf(thing.properties, ['row', 'rowLabel', 'row_label'])
  tables.push({ row: row === '' ? null : row, label: labelOf(thing.properties), type, ...placed })
  return previewLine(thing, 'table', placed, placed.bearingDeg, null, type)
}

function takeRow(planning: Planning, thing: GeoThing, points: readonly PointM[]): PreviewLine | Problem {
  const { choices, sizes, collected } = planning
  const type = typeOf(planning, thing)
  if (typeof type !== 'string') return type
  const [start] = points
  const end = points[points.length - 1]
  const lengthM = Math.hypot(end.x - start.x, end.y - start.y)
  const along = { x: (end.x - start.x) / lengthM, y: (end.y - start.y) / lengthM }
  const isBent = points.some(
    ({ x, y }) => Math.abs((x - start.x) * along.y - (y - start.y) * along.x) > straightWithinM,
  )
  if (!(lengthM > 0) || isBent)
    return itemProblem(thing, 'a straight line for each row', 'a bend, or no length')
  const size = sizes.get(type)!
  const fitted = fitTables(thing, lengthM, size, choices.gapM)
  if ('code' in fitted) return fitted
  const { count, gapM } = fitted
  // a row is drawn from the lower corner of its first table; the middle lies half a table up from it
  const downM = choices.rowLine === 'middle' ? size.upM / 2 : 0
  const bearingDeg = positiveDeg(Math.atan2(along.x, along.y) / toRad)
  const row: NewRow = {
    label: labelOf(thing.properties),
    originM: { x: start.x + downM * along.y, y: start.y - downM * along.x },
    bearingDeg,
    gapM,
    runs: [{ count, type }],
    links: choices.links,
    tableLabels: {},
  }
  collected.rows.push(row)
  return previewLine(thing, 'row', row.originM, bearingDeg, count, type)
}

/** How many tables, and the gap: by a count, a gap or a pitch of the file, else as many as the chosen gap lets stand. */
function fitTables(
  thing: GeoThing,
  lengthM: number,
  { alongM }: TableSize,
  defaultGap: number,
): { readonly count: number; readonly gapM: number } | Problem {
  const given = numberOf(thing.properties, ['tables', 'tableCount', 'table_count', 'count'])
  const pitch = numberOf(thing.properties, ['pitchM', 'pitch'])
  const gap = numberOf(thing.properties, ['gapM', 'gap']) ?? (pitch === null ? null : pitch - alongM)
  if (gap !== null && !(gap >= -0.001 && gap <= 1000)) {
    return itemProblem(thing, 'a gap between tables of 0 to 1000 m', `${Number(gap.toFixed(3))} m`)
  }
  if (given === null) {
    const gapM = Math.max(gap ?? defaultGap, 0)
    // half a centimetre is the line's, not the table's
    const count = Math.floor((lengthM + gapM + 0.005) / (alongM + gapM))
    if (count < 1) {
      const expected = `a line at least as long as a table, ${Number(alongM.toFixed(2))} m`
      return itemProblem(thing, expected, `${Number(lengthM.toFixed(2))} m`)
    }
    return count > limits.tablesPerRow
      ? itemProblem(thing, `at most ${limits.tablesPerRow} tables in a row`, `${count}`)
      : { count, gapM }
  }
  if (!Number.isInteger(given) || given < 1 || given > limits.tablesPerRow) {
    return itemProblem(thing, `a whole number of tables from 1 to ${limits.tablesPerRow}`, `${given}`)
  }
  const gapM = gap ?? (given === 1 ? defaultGap : (lengthM - given * alongM) / (given - 1))
  if (gapM >= -0.005 && gapM <= 1000) return { count: given, gapM: Math.max(gapM, 0) }
  const needed = Number((given * alongM).toFixed(2))
  return itemProblem(
    thing,
    `a line of ${needed} m or more for ${given} tables`,
    `${Number(lengthM.toFixed(2))} m`,
  )
}
