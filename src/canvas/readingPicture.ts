import type { ReadingLook } from '../state/readingLook.ts'
import { urgency, type ReadingEdges } from './overlayEdges.ts'

/** The readings that are drawn at a zoom, from below to above, the gravest on top. */
export interface ReadingPicture {
  readonly edges: ReadingEdges
  /** Numbers of the edges that are drawn. */
  readonly shown: Int32Array
  /** How strongly readings are drawn that need no eye: 1, or less where there are many of them. */
  readonly quietOpacity: number
  /** How many readings that need no eye there are, and as how many lines they are drawn. */
  readonly quiet: number
  readonly quietLines: number
}

/** From below to above. */
export const looksUpwards: readonly ReadingLook[] = [
  'setAside',
  'within',
  'tooLow',
  'waiting',
  'noMetalPath',
  'poorContact',
  'overRange',
  'investigate',
]

/** Readings whose two ends lie so near to those of another look like one line. */
const togetherPx = 16
/** Up to so many quiet lines are drawn at full strength. */
const fullStrength = 90
const leastOpacity = 0.4

/** A reading that asks for nothing: in line, or set aside. */
export function isQuiet(look: ReadingLook): boolean {
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
  const quietOpacity = Math.max(Math.min(fullStrength / Math.max(quietLines, 1), 1), leastOpacity)
  return { edges, shown: Int32Array.from(shown), quietOpacity, quiet, quietLines }
}

function cellPair(endsM: Float64Array, i: number, cell: number): string {
  const of = (at: number) => `${Math.floor(endsM[at] / cell)} ${Math.floor(endsM[at + 1] / cell)}`
  const [from, to] = [of(4 * i), of(4 * i + 2)]
  return from < to ? `${from} ${to}` : `${to} ${from}`
}
