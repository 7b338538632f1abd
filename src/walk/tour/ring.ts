/**
 * A closed tour that can be walked either way round: order and places. Its one change takes two edges out and
 * reconnects; whatever improves a tour is made of that.
 */
export class Ring {
  readonly order: Int32Array
  readonly #place: Int32Array

  /** Takes the order over: it is changed in place. */
  constructor(order: Int32Array) {
    this.order = order
    this.#place = new Int32Array(order.length)
    order.forEach((stop, k) => (this.#place[stop] = k))
  }

  after(stop: number): number {
    const k = this.#place[stop] + 1
    return this.order[k === this.order.length ? 0 : k]
  }

  before(stop: number): number {
    const k = this.#place[stop]
    return this.order[k === 0 ? this.order.length - 1 : k - 1]
  }

  /** Whether `b` comes no later than `c` when one walks on from `a`. */
  isBetween(a: number, b: number, c: number): boolean {
    const n = this.order.length
    const from = this.#place[a]
    return (this.#place[b] - from + n) % n <= (this.#place[c] - from + n) % n
  }

  /**
   * Edges a–b and c–d go, a–c and b–d come. b follows a and d follows c, or both precede. O(count) at worst: the shorter
   * piece is turned round.
   */
  exchange(a: number, b: number, c: number, d: number): void {
    if (this.after(a) === b && this.after(c) === d) this.#turn(b, c)
    else this.#turn(a, d)
  }

  /** Turns the piece from one stop on to another round, or what is left of the ring, whichever is shorter. */
  #turn(first: number, last: number): void {
    const { order } = this
    const place = this.#place
    const n = order.length
    let i = place[first]
    let k = place[last]
    let inside = (k - i + n) % n
    if (2 * inside > n) {
      ;[i, k] = [k + 1, i - 1 + n]
      if (i === n) i = 0
      if (k >= n) k -= n
      inside = (k - i + n) % n
    }
    for (let swaps = (inside + 1) >> 1; swaps > 0; swaps--) {
      const [x, y] = [order[i], order[k]]
      order[i] = y
      place[y] = i
      order[k] = x
      place[x] = k
      if (++i === n) i = 0
      if (--k < 0) k = n - 1
    }
  }
}
