import { partInTable, partKindAt, patternOfRun } from '../layout/partIndex.ts'
import { postCode } from '../layout/partKinds.ts'
import { pathLengthM } from '../layout/path.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { Electrode } from '../model/schema/equipment.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { straightWireOhm } from './buriedOhm.ts'
import type { BuriedPieces } from './buriedPieces.ts'
import { drawnElectrodeOhm } from './drawnElectrode.ts'

/** One upright rod that stands for a piece of buried metal, where it is drawn. */
export interface Piece {
  readonly atM: PointM
  readonly selfPerM: number
  readonly lengthM: number
  readonly radiusM: number
}

/** Strips are cut into pieces of about this length, into at most so many. */
const stripPieceM = 4
const mostStripPieces = 400
/** Rows nearer than this are lines of one row. */
const leastRowPitchM = 2

/** Whether a part stands in soil with a place of its own there: a post or an electrode. */
export function isBuriedPart(index: SiteIndex, part: number): boolean {
  return part < index.enclosureStart
    ? partKindAt(index, part) === postCode
    : part >= index.electrodeStart && part < index.conductorStart
}

/**
 * The buried metal of these parts (each `isBuriedPart`), `alonePerM` being what each reads alone in soil of 1 Ω·m. Places
 * are turned so that the longest row lies along x. O(parts · log runs).
 */
export function drawnPieces(
  index: SiteIndex,
  parts: readonly number[],
  alonePerM: Float64Array,
): BuriedPieces {
  const along = directionOfRows(index)
  const pieceStart = new Int32Array(parts.length + 1)
  const pieces: Piece[] = []
  parts.forEach((part, k) => {
    pieces.push(...piecesOfPart(index, part, alonePerM[k]))
    pieceStart[k + 1] = pieces.length
  })
  return {
    count: parts.length,
    pieceStart,
    alonePerM,
    xM: Float64Array.from(pieces, ({ atM }) => atM.x * along.x + atM.y * along.y),
    yM: Float64Array.from(pieces, ({ atM }) => atM.y * along.x - atM.x * along.y),
    selfPerM: Float64Array.from(pieces, ({ selfPerM }) => selfPerM),
    lengthM: Float64Array.from(pieces, ({ lengthM }) => lengthM),
    radiusM: Float64Array.from(pieces, ({ radiusM }) => radiusM),
    rowPitchM: rowPitchM(index, along),
  }
}

/** The pieces of one part, at their places in the drawing. */
export function piecesOfPart(index: SiteIndex, part: number, alonePerM: number): readonly Piece[] {
  if (part < index.enclosureStart) return [postPiece(index, part, alonePerM)]
  return electrodePieces(index.drawing.electrodes[part - index.electrodeStart], alonePerM)
}

function postPiece(index: SiteIndex, part: number, selfPerM: number): Piece {
  const { type } = patternOfRun(index, partInTable(index, part).run)
  const { buriedM, diameterM } = type.posts!.soil!
  return { atM: partPositionM(index, part)!, selfPerM, lengthM: buriedM, radiusM: diameterM / 2 }
}

/**
 * A piece of a strip shares soil with what is near as an upright rod of half its length does, which with its image in the surface
 * is as long; a plate as a rod that reaches as deep. Measured far below its form, an electrode is in truth more metal than
 * drawn, and its pieces read less in the same measure.
 */
function electrodePieces(electrode: Electrode, alonePerM: number): readonly Piece[] {
  switch (electrode.form) {
    case 'rod': {
      const { atM, lengthM, diameterM } = electrode
      return [{ atM, selfPerM: alonePerM, lengthM, radiusM: diameterM / 2 }]
    }
    case 'plate': {
      const radiusM = Math.sqrt(electrode.areaM2 / Math.PI)
      const lengthM = electrode.depthM + radiusM
      return [{ atM: electrode.atM, selfPerM: alonePerM, lengthM, radiusM }]
    }
    case 'strip': {
      const { pathM, closed, diameterM, depthM } = electrode
      const wholeM = pathLengthM(pathM, closed)
      const count = Math.max(1, Math.min(mostStripPieces, Math.round(wholeM / stripPieceM)))
      const radiusM = diameterM / 2
      const pieceM = wholeM / count
      const drawnPerM = drawnElectrodeOhm({ ...electrode, measuredOhm: null }, 1)!
      const formPerM = straightWireOhm({ lengthM: pieceM, radiusM, depthM }, 1)
      const selfPerM = count === 1 ? alonePerM : formPerM * Math.min(1, alonePerM / drawnPerM)
      return middles(pathM, closed, pieceM, count).map((atM) => {
        return { atM, selfPerM, lengthM: pieceM / 2, radiusM }
      })
    }
  }
}

/** The middles of `count` stretches of a path, each `pieceM` long. */
function middles(pathM: readonly PointM[], isClosed: boolean, pieceM: number, count: number): PointM[] {
  const corners = isClosed ? [...pathM, pathM[0]] : pathM
  const found: PointM[] = []
  let doneM = 0
  for (let c = 1; c < corners.length; c++) {
    const [a, b] = [corners[c - 1], corners[c]]
    const legM = Math.hypot(b.x - a.x, b.y - a.y)
    for (;;) {
      const atM = (found.length + 0.5) * pieceM - doneM
      if (found.length === count || atM > legM) break
      const share = legM > 0 ? atM / legM : 0
      found.push({ x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) })
    }
    doneM += legM
  }
  while (found.length < count) found.push(corners[corners.length - 1])
  return found
}

/** The direction of the row with most tables; east where there is none. */
function directionOfRows({ drawing, rows }: SiteIndex): PointM {
  let longest = -1
  rows.tables.forEach((tables, row) => {
    if (tables > 0 && (longest < 0 || tables > rows.tables[longest])) longest = row
  })
  if (longest < 0) return { x: 1, y: 0 }
  const bearing = (drawing.rows[longest].bearingDeg * Math.PI) / 180
  return { x: Math.sin(bearing), y: Math.cos(bearing) }
}

/** The median distance between rows; null where there are not two. */
function rowPitchM({ drawing }: SiteIndex, along: PointM): number | null {
  const places = Float64Array.from(
    drawing.rows,
    ({ originM }) => originM.y * along.x - originM.x * along.y,
  ).sort()
  const apart = places.subarray(1).map((place, k) => place - places[k])
  const pitches = apart.filter((pitch) => pitch >= leastRowPitchM).sort()
  return pitches.length === 0 ? null : pitches[pitches.length >> 1]
}
