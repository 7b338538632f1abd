/** Work in pieces, in an order of its own. */
export interface Queue {
  /** Share of the time, against the others'. */
  readonly share: number
  /** Each piece of work is done when it is asked for. */
  readonly pieces: Iterator<void>
}

/**
 * Goes on with whichever queue has had least of its share of the time, until time is over or nothing is left. Reads
 * the time from `nowMs`.
 */
export function takeTurns(queues: readonly Queue[], endMs: number, nowMs: () => number): void {
  const left = queues.map((queue) => ({ ...queue, spentMs: 0 }))
  while (left.length > 0) {
    const beganMs = nowMs()
    if (beganMs >= endMs) return
    const next = left.reduce((a, b) => (b.spentMs / b.share < a.spentMs / a.share ? b : a))
    if (next.pieces.next().done === true) left.splice(left.indexOf(next), 1)
    next.spentMs += nowMs() - beganMs
  }
}
