import type { WalkPath } from '../model/walkPath.ts'
import type { PointPx, View } from './mapTypes.ts'
import type { Box } from './overlayCurves.ts'
import { placeLabels, type PlacedLabel } from './overlayLabels.ts'

/** A head on a way, pointing where one walks. */
export interface WalkHead {
  readonly at: PointPx
  readonly towards: PointPx
}

/** What of a walk is on the screen. */
export interface WalkMarks {
  /** From set-up to set-up. */
  readonly ways: readonly (readonly PointPx[])[]
  readonly heads: readonly WalkHead[]
  /** From the first clips to the far ends and back; none where they would be a scrawl. */
  readonly rounds: readonly (readonly PointPx[])[]
  /** First clips, and the numbers of their set-ups where they have room. */
  readonly clips: readonly PointPx[]
  readonly plates: readonly PlacedLabel<string>[]
}

/** Rounds are drawn from so many pixels per metre on: a row's gap is then wide enough to tell two lines apart. */
const leastRoundPxPerM = 4
const headEveryPx = 130
/** From afar heads and numbers keep further apart, so that the ways stay to be seen. */
const farHeadEveryPx = 260
const farPlatesApartPx = 16
const platesApartPx = 2
const firstHeadPx = 28
/** More first clips than that, seen from afar, are a carpet: then ways without clips, long ways' heads, every tenth number. */
const mostClipsFromAfar = 40
const firstHeadInCarpetPx = 90
const numbersInCarpet = 10
const plateHeightPx = 20
const platePadPx = 6
const plateAwayPx = 17
const mostPlates = 150
const marginPx = 24

/** Places and pieces of a walk in a view; `widthOf`: of a number's text. O(points of the path). */
export function walkMarks(
  { setUps }: WalkPath,
  view: View,
  room: Box,
  widthOf: (text: string) => number,
): WalkMarks {
  const ways = setUps.flatMap(({ approachM }) => seenPieces(lineOf(approachM, view), view))
  const hasRounds = view.k >= leastRoundPxPerM
  const clips = setUps.map(({ clipM }) => ({ x: view.x + view.k * clipM.x, y: view.y - view.k * clipM.y }))
  const isCarpet = !hasRounds && clips.filter((at) => isNear(at, view)).length > mostClipsFromAfar
  const isMarked = (s: number) =>
    !isCarpet || s === 0 || s === clips.length - 1 || (s + 1) % numbersInCarpet === 0
  const wishes = clips.flatMap(({ x, y }, s) => {
    if (!isMarked(s) || !isNear({ x, y }, view)) return []
    const text = String(s + 1)
    const widthPx = Math.max(widthOf(text) + 2 * platePadPx, plateHeightPx)
    const places = [
      { x, y: y - plateAwayPx },
      { x: x + plateAwayPx + widthPx / 2 - 8, y },
      { x, y: y + plateAwayPx },
      { x: x - plateAwayPx - widthPx / 2 + 8, y },
    ]
    // from afar a number beside its clip would seem to be another one's
    return [{ of: text, places: hasRounds ? places : places.slice(0, 1), widthPx, heightPx: plateHeightPx }]
  })
  return {
    ways,
    heads: ways.flatMap((line) =>
      headsOn(line, hasRounds ? headEveryPx : farHeadEveryPx, isCarpet ? firstHeadInCarpetPx : firstHeadPx),
    ),
    rounds: hasRounds ? setUps.flatMap(({ roundM }) => seenPieces(lineOf(roundM, view), view)) : [],
    clips: clips.filter((at, s) => isMarked(s) && isNear(at, view)),
    plates: placeLabels(wishes, [], {
      within: room,
      apartPx: hasRounds ? platesApartPx : farPlatesApartPx,
      most: mostPlates,
    }),
  }
}

function lineOf(flat: Float64Array, { x, y, k }: View): readonly PointPx[] {
  return Array.from({ length: flat.length >> 1 }, (_, n) => ({
    x: x + k * flat[2 * n],
    y: y - k * flat[2 * n + 1],
  }))
}

function isNear({ x, y }: PointPx, { widthPx, heightPx }: View): boolean {
  return x > -marginPx && y > -marginPx && x < widthPx + marginPx && y < heightPx + marginPx
}

/** A line cut to the legs that come near the view, each leg cut to it, so that heads stand where they are seen. */
function seenPieces(line: readonly PointPx[], view: View): readonly (readonly PointPx[])[] {
  const pieces: PointPx[][] = []
  let open: PointPx[] | null = null
  for (let k = 1; k < line.length; k++) {
    const seen = cutLeg(line[k - 1], line[k], view)
    if (!seen) {
      open = null
      continue
    }
    const [from, to] = seen
    if (open) open.push(to)
    else pieces.push((open = [from, to]))
    if (to.x !== line[k].x || to.y !== line[k].y) open = null
  }
  return pieces
}

/** What of a leg lies in the view and a margin around it (clipping after Liang and Barsky, 1984). */
function cutLeg(a: PointPx, b: PointPx, { widthPx, heightPx }: View): readonly [PointPx, PointPx] | null {
  let [from, to] = [0, 1]
  for (const [at, change, most] of [
    [a.x, b.x - a.x, widthPx],
    [a.y, b.y - a.y, heightPx],
  ]) {
    if (change === 0) {
      if (at < -marginPx || at > most + marginPx) return null
      continue
    }
    const [enter, leave] = [(-marginPx - at) / change, (most + marginPx - at) / change]
    from = Math.max(from, Math.min(enter, leave))
    to = Math.min(to, Math.max(enter, leave))
  }
  if (from >= to) return null
  const place = (share: number) => ({ x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) })
  return [from === 0 ? a : place(from), to === 1 ? b : place(to)]
}

/** Heads along a line, evenly; one in its middle where it is short; none where it is shorter than `fromPx`. */
function headsOn(line: readonly PointPx[], everyPx: number, fromPx: number): readonly WalkHead[] {
  const legs = line.slice(1).map((to, k) => Math.hypot(to.x - line[k].x, to.y - line[k].y))
  const lengthPx = legs.reduce((sum, leg) => sum + leg, 0)
  if (lengthPx < fromPx) return []
  const count = Math.max(1, Math.floor(lengthPx / everyPx))
  const heads: WalkHead[] = []
  let leg = 0
  let passedPx = 0
  for (let h = 0; h < count; h++) {
    const atPx = ((h + 0.5) / count) * lengthPx
    while (leg < legs.length - 1 && passedPx + legs[leg] < atPx) passedPx += legs[leg++]
    const [a, b] = [line[leg], line[leg + 1]]
    const towards = { x: (b.x - a.x) / legs[leg], y: (b.y - a.y) / legs[leg] }
    const share = atPx - passedPx
    heads.push({ at: { x: a.x + share * towards.x, y: a.y + share * towards.y }, towards })
  }
  return heads
}
