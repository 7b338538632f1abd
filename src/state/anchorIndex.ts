import type { DrawnItem } from '../model/drawnItem.ts'
import type { PointM } from '../model/schema/primitives.ts'

/** More anchors than a person can tell apart in one place. */
const mostGiven = 400

/** The points of a drawn thing that others snap to. */
export interface ItemAnchors {
  readonly item: DrawnItem
  readonly pointsM: readonly PointM[]
}

interface Anchor {
  readonly key: string
  readonly atM: PointM
}

const keyOf = ({ sort, id }: DrawnItem) => `${sort} ${id}`

/** Points that others snap to, sorted by x once, so that those near a place are found without a look at all. */
export class AnchorIndex {
  readonly #x: Float64Array
  readonly #anchors: readonly Anchor[]

  /** O(points log points). */
  constructor(items: readonly ItemAnchors[]) {
    this.#anchors = items
      .flatMap(({ item, pointsM }) => pointsM.map((atM) => ({ key: keyOf(item), atM })))
      .sort((a, b) => a.atM.x - b.atM.x)
    this.#x = Float64Array.from(this.#anchors, ({ atM }) => atM.x)
  }

  /**
   * Points within a distance of a place but for those of some things; of very many those nearest to it from west
   * to east. O(log points + points in the strip).
   */
  near({ x, y }: PointM, withinM: number, except: readonly DrawnItem[] = []): readonly PointM[] {
    const left = new Set(except.map(keyOf))
    const found: PointM[] = []
    let east = this.#first(x)
    let west = east - 1
    while (found.length < mostGiven) {
      const eastM = east < this.#x.length ? this.#x[east] - x : Infinity
      const westM = west >= 0 ? x - this.#x[west] : Infinity
      if (Math.min(eastM, westM) > withinM || Math.min(eastM, westM) === Infinity) break
      const { key, atM } = this.#anchors[eastM <= westM ? east++ : west--]
      if (!left.has(key) && Math.hypot(atM.x - x, atM.y - y) <= withinM) found.push(atM)
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
