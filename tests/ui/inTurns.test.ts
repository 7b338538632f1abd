import { describe, expect, it } from 'vitest'
import { inTurns } from '../../src/ui/inTurns.ts'

/** Time that only the job spends, and turns that come when the test says so. */
function clockUnderTest() {
  let nowMs = 0
  let waiting: (() => void) | null = null
  return {
    clock: {
      nowMs: () => nowMs,
      later(turn: () => void) {
        waiting = turn
        return () => {
          if (waiting === turn) waiting = null
        }
      },
    },
    spend: (ms: number) => (nowMs += ms),
    /** False where nothing waits. */
    step(): boolean {
      const turn = waiting
      waiting = null
      turn?.()
      return turn !== null
    },
  }
}

describe('a job in turns', () => {
  it('starts later, gives the page its turn after a few milliseconds, and comes to its end', () => {
    const { clock, spend, step } = clockUnderTest()
    const done: number[] = []
    function* job() {
      for (let k = 1; k <= 10; k++) {
        spend(1.5)
        done.push(k)
        yield
      }
    }
    inTurns(job(), clock)
    expect(done).toEqual([])
    const after: number[] = []
    while (step()) after.push(done.length)
    expect(after).toEqual([3, 6, 9, 10])
  })

  it('does not go on once it is ended', () => {
    const { clock, spend, step } = clockUnderTest()
    let pieces = 0
    function* job() {
      for (;;) {
        spend(5)
        pieces++
        yield
      }
    }
    const end = inTurns(job(), clock)
    step()
    step()
    end()
    expect(step()).toBe(false)
    expect(pieces).toBe(2)
    inTurns(job(), clock)()
    expect(step()).toBe(false)
    expect(pieces).toBe(2)
  })
})
