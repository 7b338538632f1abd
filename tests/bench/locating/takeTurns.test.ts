import { describe, expect, it } from 'vitest'
import { takeTurns } from './takeTurns.ts'

describe('taking turns', () => {
  let now = 0
  function* costing(ms: number, count: number, done: () => void): Generator<void> {
    for (let k = 0; k < count; k++) {
      now += ms
      done()
      yield
    }
  }
  const run = (endMs: number, counts: readonly [number, number]) => {
    now = 0
    const done = [0, 0]
    const queues = [
      { share: 3, pieces: costing(10, counts[0], () => done[0]++) },
      { share: 1, pieces: costing(40, counts[1], () => done[1]++) },
    ]
    takeTurns(queues, endMs, () => now)
    return done
  }

  it('gives each queue its share of the time', () => {
    const [quick, slow] = run(16_000, [1e6, 1e6])
    expect(quick / 1200).toBeCloseTo(1, 1)
    expect(slow / 100).toBeCloseTo(1, 1)
  })

  it('gives the time that one does not need to the other, and ends when nothing is left', () => {
    expect(run(1e9, [5, 300])).toEqual([5, 300])
  })

  it('does nothing without time', () => {
    expect(run(0, [5, 5])).toEqual([0, 0])
  })
})
