/** A heap of candidates, the largest ratio first, of equals the smallest number. */
export class RatioHeap {
  private readonly heap: Int32Array
  private readonly ratio: Float64Array
  private size = 0

  constructor(candidates: number) {
    this.heap = new Int32Array(candidates)
    this.ratio = new Float64Array(candidates)
  }

  push(c: number, ratio: number): void {
    this.ratio[c] = ratio
    let at = this.size++
    while (at > 0) {
      const above = (at - 1) >>> 1
      if (!this.isBefore(c, this.heap[above])) break
      this.heap[at] = this.heap[above]
      at = above
    }
    this.heap[at] = c
  }

  /** The first of the heap, taken out; −1 where it is empty. */
  pop(): number {
    if (this.size === 0) return -1
    const first = this.heap[0]
    const last = this.heap[--this.size]
    let at = 0
    for (;;) {
      let below = 2 * at + 1
      if (below >= this.size) break
      if (below + 1 < this.size && this.isBefore(this.heap[below + 1], this.heap[below])) below++
      if (!this.isBefore(this.heap[below], last)) break
      this.heap[at] = this.heap[below]
      at = below
    }
    this.heap[at] = last
    return first
  }

  /** Whether something in the heap comes before candidate c with this ratio. */
  isAbove(c: number, ratio: number): boolean {
    if (this.size === 0) return false
    const first = this.heap[0]
    return this.ratio[first] > ratio || (this.ratio[first] === ratio && first < c)
  }

  private isBefore(a: number, b: number): boolean {
    return this.ratio[a] > this.ratio[b] || (this.ratio[a] === this.ratio[b] && a < b)
  }
}
