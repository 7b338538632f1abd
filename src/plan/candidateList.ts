import type { Candidates } from './candidates.ts'
import type { PairView } from './sighting.ts'

/** What one candidate shows, as it is copied from place to place: joints of a view that it shows, not only feels. */
export interface ShownByPair {
  readonly edge: Int32Array
  readonly squared: Float32Array
  readonly leastRiseOhm: number
  readonly sdOhm: number
}

export function shownByPair({ edge, squared, riseOhm, leastRiseOhm, sdOhm }: PairView): ShownByPair {
  const shown: number[] = []
  for (let k = 0; k < edge.length; k++) if (riseOhm[k] >= leastRiseOhm) shown.push(k)
  return {
    edge: Int32Array.from(shown, (k) => edge[k]),
    squared: Float32Array.from(shown, (k) => squared[k]),
    leastRiseOhm,
    sdOhm,
  }
}

/** Candidates as they come, in arrays that grow. */
export interface CandidateList {
  add: (a: number, b: number, shown: ShownByPair, template: number) => void
  done: (templateCount: number, isComplete: boolean) => Candidates
}

export function candidateList(): CandidateList {
  let room = 1024
  let entryRoom = 8192
  let count = 0
  let entries = 0
  let a = new Int32Array(room)
  let b = new Int32Array(room)
  let start = new Int32Array(room + 1)
  let leastRiseOhm = new Float32Array(room)
  let sdOhm = new Float32Array(room)
  let template = new Int32Array(room)
  let edge = new Int32Array(entryRoom)
  let squared = new Float32Array(entryRoom)
  return {
    add(one, other, shown, number) {
      if (count === room) {
        room *= 2
        a = grownInt(a, room)
        b = grownInt(b, room)
        start = grownInt(start, room + 1)
        template = grownInt(template, room)
        leastRiseOhm = grownFloat(leastRiseOhm, room)
        sdOhm = grownFloat(sdOhm, room)
      }
      while (entries + shown.edge.length > entryRoom) {
        entryRoom *= 2
        edge = grownInt(edge, entryRoom)
        squared = grownFloat(squared, entryRoom)
      }
      a[count] = Math.min(one, other)
      b[count] = Math.max(one, other)
      leastRiseOhm[count] = shown.leastRiseOhm
      sdOhm[count] = shown.sdOhm
      template[count] = number
      edge.set(shown.edge, entries)
      squared.set(shown.squared, entries)
      entries += shown.edge.length
      start[++count] = entries
    },
    done: (templateCount, isComplete) => ({
      count,
      a: a.slice(0, count),
      b: b.slice(0, count),
      start: start.slice(0, count + 1),
      edge: edge.slice(0, entries),
      squared: squared.slice(0, entries),
      leastRiseOhm: leastRiseOhm.slice(0, count),
      sdOhm: sdOhm.slice(0, count),
      template: template.slice(0, count),
      templateCount,
      isComplete,
    }),
  }
}

function grownInt(from: Int32Array<ArrayBuffer>, room: number): Int32Array<ArrayBuffer> {
  const to = new Int32Array(room)
  to.set(from)
  return to
}

function grownFloat(from: Float32Array<ArrayBuffer>, room: number): Float32Array<ArrayBuffer> {
  const to = new Float32Array(room)
  to.set(from)
  return to
}
