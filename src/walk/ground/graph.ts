import type { PointM } from '../../model/schema/primitives.ts'

/** Nodes in plan and ways between them, as they are put together. */
export class GraphInMaking {
  readonly pointsM: PointM[] = []
  readonly a: number[] = []
  readonly b: number[] = []
  readonly wayM: number[] = []
  readonly #byPlace = new Map<string, number>()
  readonly #linked = new Set<number>()

  /** The node at a place; places within a tenth of a millimetre are one. */
  nodeAt(at: PointM): number {
    const key = `${Math.round(at.x * 1e4)},${Math.round(at.y * 1e4)}`
    const known = this.#byPlace.get(key)
    if (known !== undefined) return known
    this.#byPlace.set(key, this.pointsM.length)
    return this.pointsM.push(at) - 1
  }

  /** A straight way between two nodes, unless there is one. */
  link(a: number, b: number): void {
    if (a === b) return
    const key = Math.min(a, b) * 0x4000000 + Math.max(a, b)
    if (this.#linked.has(key)) return
    this.#linked.add(key)
    this.a.push(a)
    this.b.push(b)
    this.wayM.push(betweenM(this.pointsM[a], this.pointsM[b]))
  }

  /** Nodes with their ways from each, closed for changes. */
  close(): WayGraph {
    const count = this.pointsM.length
    const start = new Int32Array(count + 1)
    for (const ends of [this.a, this.b]) for (const node of ends) start[node + 1]++
    for (let k = 0; k < count; k++) start[k + 1] += start[k]
    const next = start.slice()
    const to = new Int32Array(2 * this.a.length)
    const wayM = new Float64Array(2 * this.a.length)
    this.wayM.forEach((way, e) => {
      for (const [from, there] of [
        [this.a[e], this.b[e]],
        [this.b[e], this.a[e]],
      ]) {
        to[next[from]] = there
        wayM[next[from]++] = way
      }
    })
    return {
      count,
      xM: Float64Array.from(this.pointsM, ({ x }) => x),
      yM: Float64Array.from(this.pointsM, ({ y }) => y),
      start,
      to,
      wayM,
    }
  }
}

/** Ways from node n lead to to[k], k = start[n] … start[n + 1] − 1; each stands at both of its nodes. */
export interface WayGraph {
  readonly count: number
  readonly xM: Float64Array
  readonly yM: Float64Array
  readonly start: Int32Array
  readonly to: Int32Array
  readonly wayM: Float64Array
}

export function betweenM(a: PointM, b: PointM): number {
  return Math.hypot(a.x - b.x, a.y - b.y)
}
