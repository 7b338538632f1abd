import type { PointM } from '../model/schema/primitives.ts'

/** More anchors than a person can tell apart in one place. */
const mostGiven = 400

/** Points that others snap to, sorted by x once, so that those near a place are found without a look at all. */
export class AnchorIndex {
  readonly #x: Float64Array
  readonly #points: readonly PointM[]

  /** O(points log points). */
  constructor(anchors: readonly (readonly PointM[])[]) {
    this.#points = anchors.flat().sort((a, b) => a.x - b.x)
    this.#x = Float64Array.from(this.#points, ({ x }) => x)
  }

  /** Points within a distance of a place, at most some hundreds. O(log points + points in the strip). */
  near({ x, y }: PointM, withinM: number): readonly PointM[] {
    const found: PointM[] = []
    for (let i = this.#first(x - withinM); i < this.#x.length && this.#x[i] <= x + withinM; i++) {
      const point = this.#points[i]
      if (Math.hypot(point.x - x, point.y - y) > withinM) continue
      found.push(point)
      if (found.length === mostGiven) break
    }
    return found
  }

  #first(atLeastX: number): number {
    let low = 0
    let high = this.#x.length
    while (low < high) {
      const middle = (low + high) >>> 1
      if (this.#x[middle] < atLeastX) low = middle + 1
      else high = middle
    }
    return low
  }
}
