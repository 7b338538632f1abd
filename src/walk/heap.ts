/** A queue of nodes by distance, the nearest first. */
export class Heap {
  #node = new Int32Array(1024)
  #key = new Float64Array(1024)
  #size = 0

  get size(): number {
    return this.#size
  }

  get leastKey(): number {
    return this.#key[0]
  }

  push(node: number, key: number): void {
    if (this.#size === this.#node.length) {
      const [nodes, keys] = [this.#node, this.#key]
      this.#node = new Int32Array(2 * this.#size)
      this.#node.set(nodes)
      this.#key = new Float64Array(2 * this.#size)
      this.#key.set(keys)
    }
    let k = this.#size++
    while (k > 0) {
      const above = (k - 1) >> 1
      if (this.#key[above] <= key) break
      this.#node[k] = this.#node[above]
      this.#key[k] = this.#key[above]
      k = above
    }
    this.#node[k] = node
    this.#key[k] = key
  }

  /** Takes the nearest node out; there must be one. */
  pop(): number {
    const result = this.#node[0]
    const size = --this.#size
    const node = this.#node[size]
    const key = this.#key[size]
    let k = 0
    for (;;) {
      let below = 2 * k + 1
      if (below >= size) break
      if (below + 1 < size && this.#key[below + 1] < this.#key[below]) below++
      if (this.#key[below] >= key) break
      this.#node[k] = this.#node[below]
      this.#key[k] = this.#key[below]
      k = below
    }
    this.#node[k] = node
    this.#key[k] = key
    return result
  }

  clear(): void {
    this.#size = 0
  }
}
