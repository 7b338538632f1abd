import { describe, expect, it } from 'vitest'
import { JobQueue, progressEveryMs, turnMs } from '../../src/engine/jobQueue.ts'
import type { Progress } from '../../src/engine/progress.ts'

/** A queue under a clock that only jobs move on, and what it told. */
function queueUnderTest() {
  const clock = { ms: 1000 }
  const told: string[] = []
  const closed: number[] = []
  const queue = new JobQueue<string>({
    now: () => clock.ms,
    onProgress: (id, { fraction }) => told.push(`${id} at ${fraction}`),
    onDone: (id, result) => told.push(`${id} done: ${result}`),
    onCancelled: (id) => told.push(`${id} cancelled`),
  })
  function* job(id: number, stepMs: number, steps: number): Generator<Progress, string> {
    try {
      for (let k = 1; k <= steps; k++) {
        clock.ms += stepMs
        yield { stage: 'compile', fraction: k / steps }
      }
      return `result ${id}`
    } finally {
      closed.push(id)
    }
  }
  const add = (id: number, name: string, stepMs: number, steps: number, rank = 0) =>
    queue.add({ id, name, rank, steps: job(id, stepMs, steps) })
  const workOff = (most = 10_000) => {
    let turns = 1
    while (queue.turn()) if (++turns > most) throw new Error('the queue does not end')
    return turns
  }
  return { clock, told, closed, queue, add, workOff }
}

describe('turns', () => {
  it('end when their time is over, at the next pause of the job', () => {
    const { clock, queue, add } = queueUnderTest()
    add(1, 'a', 3, 10)
    expect(queue.turn()).toBe(true)
    // pauses after 3, 6 and 9 ms: the first of them past the length of a turn ends it
    expect(clock.ms - 1000).toBe(Math.ceil(turnMs / 3) * 3)
  })

  it('a short job is done in one, and an empty queue has nothing to do', () => {
    const { told, queue, add } = queueUnderTest()
    expect(queue.turn()).toBe(false)
    add(1, 'a', 1, 3)
    expect(queue.turn()).toBe(false)
    expect(told).toEqual(['1 done: result 1'])
    expect(queue.isEmpty).toBe(true)
  })

  it('go to the job of the lowest rank, of equal ranks to the first that came', () => {
    const { told, add, workOff } = queueUnderTest()
    add(1, 'long', 5, 40, 2)
    add(2, 'short', 5, 4, 0)
    add(3, 'other', 5, 4, 0)
    add(4, 'middle', 5, 4, 1)
    workOff()
    expect(told.filter((line) => line.includes('done')).map((line) => line[0])).toEqual(['2', '3', '4', '1'])
  })

  it('a job of a lower rank that comes in goes before one that has begun', () => {
    const { told, queue, add, workOff } = queueUnderTest()
    add(1, 'long', 5, 40, 2)
    queue.turn()
    add(2, 'short', 1, 2, 0)
    queue.turn()
    expect(told).toEqual(['2 done: result 2'])
    workOff()
    expect(told.at(-1)).toBe('1 done: result 1')
  })
})

describe('newest wins', () => {
  it('a job takes the place of the one with its name, which is closed and never done', () => {
    const { told, closed, queue, add, workOff } = queueUnderTest()
    add(1, 'a', 5, 10)
    add(2, 'b', 5, 2)
    queue.turn()
    add(3, 'a', 1, 1)
    expect(told).toEqual(['1 cancelled'])
    expect(closed).toEqual([1])
    workOff()
    expect(told).toEqual(['1 cancelled', '2 done: result 2', '3 done: result 3'])
  })

  it('a job that is cancelled ends at once, others go on', () => {
    const { told, queue, add, workOff } = queueUnderTest()
    add(1, 'a', 5, 10)
    add(2, 'b', 5, 2)
    queue.turn()
    queue.cancel(1)
    queue.cancel(77)
    expect(told).toEqual(['1 cancelled'])
    workOff()
    expect(told).toEqual(['1 cancelled', '2 done: result 2'])
  })

  it('all at once', () => {
    const { told, queue, add } = queueUnderTest()
    add(1, 'a', 5, 10)
    add(2, 'b', 5, 2)
    queue.cancelAll()
    expect(told).toEqual(['1 cancelled', '2 cancelled'])
    expect(queue.turn()).toBe(false)
  })

  it('a job that asks for another while it ends is not lost', () => {
    const done: number[] = []
    const queue: JobQueue<null> = new JobQueue<null>({
      now: () => 0,
      onProgress: () => undefined,
      onCancelled: () => undefined,
      onDone(id) {
        done.push(id)
        if (id === 1) queue.add({ id: 2, name: 'a', rank: 0, steps: empty() })
      },
    })
    function* empty(): Generator<Progress, null> {
      return null
    }
    queue.add({ id: 1, name: 'a', rank: 0, steps: empty() })
    expect(queue.turn()).toBe(true)
    expect(queue.turn()).toBe(false)
    expect(done).toEqual([1, 2])
  })
})

it('progress is told some ten times a second, not at every pause', () => {
  const { told, add, workOff } = queueUnderTest()
  add(1, 'a', 2, 500)
  workOff()
  const seen = told.filter((line) => line.includes(' at '))
  expect(seen).toHaveLength((2 * 500) / progressEveryMs)
  const fractions = seen.map((line) => Number(line.split(' at ')[1]))
  expect(fractions).toEqual([...fractions].sort((a, b) => a - b))
})

it('what a job throws is not swallowed', () => {
  const { queue } = queueUnderTest()

  function* broken(): Generator<Progress, string> {
    throw new Error('Internal error: broken')
  }
  queue.add({ id: 1, name: 'a', rank: 0, steps: broken() })
  expect(() => queue.turn()).toThrow('broken')
})
