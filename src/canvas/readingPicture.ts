import type { LineLook } from '../state/readingLook.ts'
import { urgency, type ReadingEdges } from './overlayEdges.ts'

/** The readings that are drawn at a zoom, from below to above, the gravest on top. */
export interface ReadingPicture {
  readonly edges: ReadingEdges
  /** Numbers of the edges that are drawn. */
  readonly shown: Int32Array
  /** How strongly readings are drawn that need no eye: 1, or less where there are many of them. */
  readonly quietOpacity: number
  /** Share of their width and of their ends: less where the site is so small that their arcs would cover it. */
  readonly quietStrength: number
  /** How many readings that need no eye there are, and as how many lines they are drawn. */
  readonly quiet: number
  readonly quietLines: number
}

/** From below to above. */
export const looksUpwards: readonly LineLook[] = [
  'setAside',
  'within',
  'timesNear',
  'planned',
  'proposed',
  'tooLow',
  'leadIn',
  'timesBelow',
  'waiting',
  'required',
  'noMetalPath',
  'poorContact',
  'timesRaised',
  'overRange',
  'timesHigh',
  'investigate',
  'timesFar',
]

/** Readings whose two ends lie so near to those of another look like one line. */
const togetherPx = 16
/** Up to so many quiet lines are drawn at full strength. */
const fullStrength = 90
const leastOpacity = 0.4

/** A line that asks for nothing by itself: a reading in line or set aside, a pair that the contract does not name. */
export function isQuiet(look: LineLook): boolean {
  return urgency[look] >= urgency.within
}

/**
 * Size in metres of the cells in which ends count as lying together: steps of √2, so that a slow zoom does not change
 * at every frame what is drawn.
 */
export function cellM(pxPerM: number): number {
  return Math.SQRT2 ** Math.round(Math.log2(togetherPx / pxPerM) * 2)
}

/**
 * What is drawn of the readings at a zoom. Those that ask for something are all drawn. Of the quiet ones, those
 * whose ends lie in the same two cells of the plan are one line. Where the view is has no say in it. O(readings log).
 */
export function readingPicture(edges: ReadingEdges, cell: number): ReadingPicture {
  const { marks, endsM } = edges
  const shown: number[] = []
  const taken = new Set<string>()
  let quiet = 0
  let quietLines = 0
  for (let i = 0; i < marks.length; i++) {
    if (isQuiet(marks[i].look)) {
      quiet++
      const pair = marks[i].isPicked ? `own ${i}` : cellPair(endsM, i, cell)
      if (taken.has(pair)) continue
      taken.add(pair)
      quietLines++
    }
    shown.push(i)
  }
  const rank = (i: number) => looksUpwards.indexOf(marks[i].look)
  shown.sort((a, b) => rank(a) - rank(b) || a - b)
  const quietStrength = strengthOf(medianQuietM(edges) * (togetherPx / cell))
  const quietOpacity = Math.max(
    Math.min(fullStrength / Math.max(quietLines, 1), 1) * quietStrength,
    leastOpacity,
  )
  return { edges, shown: Int32Array.from(shown), quietOpacity, quietStrength, quiet, quietLines }
}

/** Quiet readings that are mostly shorter than the first are drawn weakest, from the second on in full. */
const weakPx = 60
const strongPx = 190
const leastStrength = 0.55

function strengthOf(lengthPx: number): number {
  const share = Math.min(Math.max((lengthPx - weakPx) / (strongPx - weakPx), 0), 1)
  return leastStrength + (1 - leastStrength) * share
}

function medianQuietM({ marks, endsM }: ReadingEdges): number {
  const lengths = marks.flatMap(({ look }, i) =>
    isQuiet(look) ? [Math.hypot(endsM[4 * i + 2] - endsM[4 * i], endsM[4 * i + 3] - endsM[4 * i + 1])] : [],
  )
  return lengths.length === 0 ? Infinity : Float64Array.from(lengths).sort()[lengths.length >> 1]
}

function cellPair(endsM: Float64Array, i: number, cell: number): string {
  const of = (at: number) => `${Math.floor(endsM[at] / cell)} ${Math.floor(endsM[at + 1] / cell)}`
  const [from, to] = [of(4 * i), of(4 * i + 2)]
  return from < to ? `${from} ${to}` : `${to} ${from}`
}
