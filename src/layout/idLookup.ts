/** Finds the position of a stored id in a list: binary search over the sorted ids, 8 bytes an id. */
export interface IdLookup {
  readonly sorted: Int32Array
  /** Position in the list of the id at the same place in `sorted`. */
  readonly position: Int32Array
}

/** O(n log n), or O(n) where the ids already ascend. Of equal ids the first in the list is found. */
export function idLookup(ids: Int32Array): IdLookup {
  const position = new Int32Array(ids.length)
  let ascends = true
  for (let i = 0; i < ids.length; i++) {
    position[i] = i
    if (i > 0 && ids[i] < ids[i - 1]) ascends = false
  }
  if (!ascends) position.sort((a, b) => ids[a] - ids[b] || a - b)
  return { sorted: position.map((at) => ids[at]), position }
}

/** The position of the id in its list, −1 where it is not there. O(log n). */
export function findId(lookup: IdLookup, id: number): number {
  const at = lowerBound(lookup.sorted, id, 0, lookup.sorted.length)
  return at < lookup.sorted.length && lookup.sorted[at] === id ? lookup.position[at] : -1
}

/** First place in ascending values[low … high − 1] that is at least `value`; `high` where none is. */
export function lowerBound(values: ArrayLike<number>, value: number, low: number, high: number): number {
  while (low < high) {
    const middle = (low + high) >>> 1
    if (values[middle] < value) low = middle + 1
    else high = middle
  }
  return low
}

/** Last place in ascending values[low … high − 1] that is at most `value`; low − 1 where none is. */
export function lastAtMost(values: ArrayLike<number>, value: number, low: number, high: number): number {
  return lowerBound(values, value + 1, low, high) - 1
}
