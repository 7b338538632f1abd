/**
 * How one list became another, told by the identity of their items: stretches of the earlier list that stay, and
 * items that are new. Items are replaced, never changed, so that an item that is the same object has the
 * same content.
 */
export type ListPiece<T> = { readonly keep: number; readonly count: number } | { readonly add: readonly T[] }
export type ListChange<T> = readonly ListPiece<T>[]

/**
 * The pieces that make `next` out of `previous`, in order. What both lists begin and end with is found first; only
 * what lies between is looked up. No list here holds one object twice. O(items).
 */
export function listChange<T>(previous: readonly T[], next: readonly T[]): ListChange<T> {
  const shorter = Math.min(previous.length, next.length)
  let head = 0
  while (head < shorter && previous[head] === next[head]) head++
  let tail = 0
  while (tail < shorter - head && previous[previous.length - 1 - tail] === next[next.length - 1 - tail])
    tail++
  const pieces: ListPiece<T>[] = []
  if (head > 0) pieces.push({ keep: 0, count: head })
  const between = next.slice(head, next.length - tail)
  if (between.length > 0) addBetween(pieces, previous, head, previous.length - tail, between)
  if (tail > 0) pieces.push({ keep: previous.length - tail, count: tail })
  return pieces
}

function addBetween<T>(
  pieces: ListPiece<T>[],
  previous: readonly T[],
  from: number,
  to: number,
  between: readonly T[],
): void {
  const place = new Map<T, number>()
  for (let k = from; k < to; k++) place.set(previous[k], k)
  let added: T[] = []
  let kept: { keep: number; count: number } | null = null
  for (const item of between) {
    const at = place.get(item)
    if (at === undefined) {
      if (added.length === 0) pieces.push({ add: added })
      added.push(item)
      kept = null
      continue
    }
    added = []
    if (kept && kept.keep + kept.count === at) kept.count++
    else {
      kept = { keep: at, count: 1 }
      pieces.push(kept)
    }
  }
}

/** The list that the pieces make; items that stay are the very objects of `previous`. */
export function changedList<T>(previous: readonly T[], change: ListChange<T>): readonly T[] {
  return change.flatMap((piece) =>
    'add' in piece ? piece.add : previous.slice(piece.keep, piece.keep + piece.count),
  )
}
