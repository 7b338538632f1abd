import { describe, expect, it } from 'vitest'
import { pickAt, targetsOf, type PickState } from '../../src/tools/pick.ts'
import type { Tap } from '../../src/tools/tap.ts'

const nothing: Tap = {
  at: { x: 0, y: 0 },
  reachM: 0.5,
  mark: null,
  part: -1,
  joint: -1,
  reading: null,
  table: null,
}
const full: Tap = { ...nothing, part: 7, joint: 3, reading: 'r1', table: { run: 1, place: 4 } }

function kinds(taps: readonly Tap[]): (string | undefined)[] {
  let state: PickState = null
  return taps.map((tap) => (state = pickAt(state, tap))?.chosen.kind)
}

describe('a tap', () => {
  it('chooses the part first', () => {
    expect(pickAt(null, full)?.chosen).toEqual({ kind: 'part', part: 7 })
  })

  it('again at the same place goes through joint, reading and table and begins anew', () => {
    expect(kinds([full, full, full, full, full])).toEqual(['part', 'joint', 'reading', 'table', 'part'])
  })

  it('elsewhere begins anew', () => {
    const there = { ...full, at: { x: 0.6, y: 0 } }
    expect(kinds([full, full, there])).toEqual(['part', 'joint', 'part'])
  })

  it('wanders no further than its reach from the first of the series', () => {
    const step = (x: number) => ({ ...full, at: { x, y: 0 } })
    expect(kinds([step(0), step(0.4), step(0.8)])).toEqual(['part', 'joint', 'part'])
  })

  it('takes a mark that lies right under it first, and once only', () => {
    const marked: Tap = { ...full, mark: { kind: 'reading', entry: 'r1' } }
    expect(targetsOf(marked).map(({ kind }) => kind)).toEqual(['reading', 'part', 'joint', 'table'])
    expect(kinds([marked, marked, marked, marked])).toEqual(['reading', 'part', 'joint', 'table'])
  })

  it('takes a suspect for its group and its joint for another thing', () => {
    const marked: Tap = { ...full, mark: { kind: 'suspect', joint: 3 } }
    expect(kinds([marked, marked, marked])).toEqual(['suspect', 'part', 'joint'])
  })

  it('on nothing chooses nothing and forgets the place', () => {
    expect(kinds([full, nothing, full])).toEqual(['part', undefined, 'part'])
  })

  it('goes on where other things have come under it since', () => {
    const state = pickAt(null, full)
    expect(pickAt(state, { ...full, part: 8 })?.chosen).toEqual({ kind: 'part', part: 8 })
  })
})
