import { describe, expect, it } from 'vitest'
import { idleLink, linkStep, type LinkDone, type LinkEvent, type LinkState } from '../../src/tools/link.ts'

const here = { x: 1, y: 2 }
const there = { x: 5, y: 2 }
const press = (part: number): LinkEvent => ({ kind: 'press', at: here, part })
const drag = (part: number): LinkEvent => ({ kind: 'move', at: there, part, hasLeft: true })
const wobble = (part: number): LinkEvent => ({ kind: 'move', at: here, part, hasLeft: false })
const release = (part: number, waiting = -1, isInside = true): LinkEvent => ({
  kind: 'release',
  part,
  isInside,
  waiting,
})

function play(events: readonly LinkEvent[]): { state: LinkState; done: LinkDone[] } {
  let state = idleLink
  const done: LinkDone[] = []
  for (const event of events) {
    const step = linkStep(state, event)
    state = step.state
    if (step.done) done.push(step.done)
  }
  return { state, done }
}

describe('a drag', () => {
  it('from one part to another links them', () => {
    const { state, done } = play([press(4), drag(-1), drag(9), release(9)])
    expect(done).toEqual([{ kind: 'linked', from: 4, to: 9 }])
    expect(state).toBe(idleLink)
  })

  it('shows the line and the part it would end at', () => {
    expect(play([press(4), drag(9)]).state).toEqual({ phase: 'dragging', from: 4, at: there, over: 9 })
    expect(play([press(4), drag(4)]).state).toEqual({ phase: 'dragging', from: 4, at: there, over: -1 })
  })

  it('that ends on nothing, on its own part or outside links nothing', () => {
    expect(play([press(4), drag(9), release(-1)]).done).toEqual([])
    expect(play([press(4), drag(9), drag(4), release(4)]).done).toEqual([])
    expect(play([press(4), drag(9), release(9, -1, false)]).done).toEqual([])
  })

  it('that is cancelled links nothing, whatever follows', () => {
    const { state, done } = play([press(4), drag(9), { kind: 'cancel' }, drag(9), release(9)])
    expect(done).toEqual([])
    expect(state).toBe(idleLink)
  })

  it('begins on a part only', () => {
    expect(play([press(-1), drag(9), release(9)]).done).toEqual([])
  })

  it('is given up when a second press comes', () => {
    expect(play([press(4), drag(9), press(9), release(9)]).done).toEqual([])
  })
})

describe('a tap', () => {
  it('begins a pair, also when the pointer trembles', () => {
    expect(play([press(4), wobble(4), release(4)]).done).toEqual([{ kind: 'begun', from: 4 }])
  })

  it('on a second part ends the pair that waits', () => {
    expect(play([press(9), release(9, 4)]).done).toEqual([{ kind: 'linked', from: 4, to: 9 }])
  })

  it('on the part that waits begins again: a part makes no pair with itself', () => {
    expect(play([press(4), release(4, 4)]).done).toEqual([{ kind: 'begun', from: 4 }])
  })
})
