/** What turns are timed by; those of the browser where left out. */
export interface TurnClock {
  readonly nowMs: () => number
  /** Calls `turn` after everything that waits already. Returns what takes that back. */
  readonly later: (turn: () => void) => () => void
}

/** Well below a frame, so that a letter typed meanwhile is not late. */
const turnMs = 4

/**
 * Runs a job that pauses to its end, a few milliseconds at a time, so that the page is drawn and heard in between.
 * Returns what ends it early.
 */
export function inTurns(job: Iterator<unknown>, clock: TurnClock = browserClock): () => void {
  const turn = () => {
    const until = clock.nowMs() + turnMs
    while (!job.next().done) {
      if (clock.nowMs() < until) continue
      takeBack = clock.later(turn)
      return
    }
  }
  let takeBack = clock.later(turn)
  return () => takeBack()
}

const browserClock: TurnClock = {
  nowMs: () => performance.now(),
  later(turn) {
    const timer = setTimeout(turn)
    return () => clearTimeout(timer)
  },
}
