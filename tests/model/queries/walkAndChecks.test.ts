import { describe, expect, it } from 'vitest'
import { checksDone, checksFor } from '../../../src/model/queries/checksDone.ts'
import { holdBefore, nextOfWalk, walkOf } from '../../../src/model/queries/planWalk.ts'
import type { Plan } from '../../../src/model/schema/planning.ts'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'

const visit = 'visit'
let count = 0
const stamp = (id: string) => ({
  id,
  device: 'device',
  counter: count++,
  at: new Date(Date.parse('2026-05-12T08:00:00Z') + 60_000 * count).toISOString(),
  visit,
})

function reading(id: string, ohm: number | null, more: Partial<EntryOf<'reading'>> = {}): EntryOf<'reading'> {
  return {
    ...stamp(id),
    entry: 'reading',
    method: 'twoWire',
    kit: 'kit',
    lead: 'lead',
    from: { part: 'B1', spot: 'stud', surface: 'bare' },
    to: { part: 'R1/T1/F1.1', spot: 'face', surface: 'pierced' },
    around: null,
    result: ohm === null ? { form: 'over', atLeastOhm: 200 } : { form: 'ohm', ohm },
    reverseOhm: null,
    unsteady: null,
    testCurrentA: null,
    metalC: null,
    trackerDeg: null,
    repeats: null,
    trying: null,
    spikesM: null,
    plan: null,
    planPair: null,
    photos: [],
    note: '',
    ...more,
  }
}

const leadCheck = (id: string, ohm: number, lead = 'lead'): Entry => ({
  ...stamp(id),
  entry: 'leadCheck',
  kit: 'kit',
  lead,
  result: { form: 'ohm', ohm },
  note: '',
})

describe('checks that were done about a reading', () => {
  it('follows repeats of repeats, and strikes what each tried', () => {
    const record = [
      reading('a', 2),
      reading('other', 0.05),
      reading('b', 1.5, { repeats: 'a', trying: 'clip' }),
      reading('c', null, { repeats: 'b', trying: 'polarity' }),
    ]
    for (const asked of ['a', 'b', 'c']) {
      const { tries, done, rangeOhm, overRange, shorted } = checksDone(record, asked)
      expect(tries.map(({ id }) => id)).toEqual(['a', 'b', 'c'])
      expect([...done].sort()).toEqual(['clip', 'polarity'])
      expect(rangeOhm).toEqual({ least: 1.5, most: 2 })
      expect([overRange, shorted]).toEqual([1, null])
    }
    expect(checksDone(record, 'other').tries).toHaveLength(1)
  })

  it('counts a short of the same leads after the first try, and none of before or of other leads', () => {
    const before = leadCheck('before', 0.4)
    const first = reading('a', null)
    expect(checksDone([before, first], 'a').done.has('shorted')).toBe(false)
    expect(checksDone([before, first, leadCheck('x', 0.3, 'long')], 'a').shorted).toBeNull()
    expect(checksDone([before, first, leadCheck('y', 0.2)], 'a').shorted).toEqual({ form: 'ohm', ohm: 0.2 })
  })

  it('does not count a try that was withdrawn', () => {
    const record: Entry[] = [
      reading('a', 2),
      reading('b', 0.05, { repeats: 'a', trying: 'clip' }),
      { ...stamp('w'), entry: 'withdrawal', of: 'b', reason: '' },
    ]
    expect(checksDone(record, 'a').done.size).toBe(0)
    expect(checksDone(record, 'a').rangeOhm).toEqual({ least: 2, most: 2 })
  })

  it('shorts the far end first after over range, and asks nothing of leads where there are none', () => {
    expect(checksFor('twoWire', true)[0]).toBe('shorted')
    expect(checksFor('twoWire', false)).toEqual(['clip', 'lead', 'polarity', 'seat'])
    expect(checksFor('fourWire', true)).not.toContain('lead')
    expect(checksFor('loopClamp', true)).toEqual(['seat'])
  })
})

const pair = (id: number, point: Plan['pairs'][number]['point'] = 'none') => ({
  id,
  from: 'B1',
  to: `R1/T${id}/F1.1`,
  required: false,
  step: '',
  point,
})
const plan: Plan = {
  id: 'first',
  name: 'First test',
  note: '',
  pairs: [pair(3), pair(1, 'hold'), pair(7), pair(4)],
  nextPair: 8,
}
const read = (planPair: number, id = `r${planPair}`) => reading(id, 0.05, { plan: 'first', planPair })
const none = new Set<number>()

describe('a walk along a plan', () => {
  it('goes in the order of the plan past what is read and what is passed over', () => {
    const free = { ...plan, pairs: [pair(3), pair(1), pair(7), pair(4)] }
    const walk = walkOf(free, [read(3)], new Set([7]))
    expect([walk.done, walk.skipped, walk.left]).toEqual([1, 1, 2])
    expect(nextOfWalk(walk, 0)?.pair.id).toBe(1)
    expect(nextOfWalk(walk, 2)?.pair.id).toBe(4)
    expect(nextOfWalk(walk, 4)?.place).toBe(2)
  })

  it('counts no reading of another plan, none withdrawn, and what is read is not passed over', () => {
    const other = { ...read(3), plan: 'other' }
    expect(walkOf(plan, [other], none).done).toBe(0)
    const back: Entry = { ...stamp('w3'), entry: 'withdrawal', of: 'r3', reason: '' }
    expect(walkOf(plan, [read(3), back], none).done).toBe(0)
    expect(walkOf(plan, [read(7)], new Set([7])).skipped).toBe(0)
  })

  it('is at its end where nothing is left', () => {
    const free = { ...plan, pairs: [pair(3), pair(1), pair(7), pair(4)] }
    const walk = walkOf(free, [read(3), read(7)], new Set([1, 4]))
    expect(walk.left).toBe(0)
    expect(nextOfWalk(walk, 0)).toBeNull()
  })

  it('is held from the reading of a hold point on, until that pair is signed', () => {
    expect(walkOf(plan, [read(3)], none).heldAt).toBeNull()
    const held = [read(3), read(1)]
    expect(walkOf(plan, held, none).heldAt?.place).toBe(2)
    const signed = (planPair: number): Entry => ({
      ...stamp(`s${planPair}`),
      entry: 'signature',
      role: 'witness',
      name: 'A. Rowan',
      drawing: 'drawing',
      drawingRevision: '',
      plan: 'first',
      planPair,
      note: '',
      entries: [],
      digest: '0'.repeat(64),
    })
    expect(walkOf(plan, [...held, signed(3)], none).heldAt?.place).toBe(2)
    expect(walkOf(plan, [...held, signed(1)], none).heldAt).toBeNull()
    expect(nextOfWalk(walkOf(plan, held, none), 2)).toBeNull()
    // passed over is not released; what lies before it can still be read
    expect(walkOf(plan, [read(3)], new Set([1])).heldAt?.place).toBe(2)
    expect(walkOf(plan, [read(1)], none).heldAt).toBeNull()
    expect(nextOfWalk(walkOf(plan, [read(1)], none), 2)?.place).toBe(1)
    expect(nextOfWalk(walkOf(plan, [...held, signed(1)], none), 2)?.place).toBe(3)
  })

  it('lets no pair behind a hold point be read in whatever order it is come to, and no other pair wait', () => {
    const unread = walkOf(plan, [], none)
    const behind = 'R1/T7/F1.1'
    expect(holdBefore(unread, 'B1', behind)?.place).toBe(2)
    expect(holdBefore(unread, behind, 'B1')?.place).toBe(2)
    for (const before of ['R1/T3/F1.1', 'R1/T1/F1.1', 'R1/T9/F1.1']) {
      expect(holdBefore(unread, 'B1', before)).toBeNull()
    }
    expect(holdBefore(unread, 'R1/T3/F1.1', behind)).toBeNull()
    // a pair that stands on both sides of the point may be read
    const twice = { ...plan, pairs: [{ ...pair(7), id: 2 }, ...plan.pairs] }
    expect(holdBefore(walkOf(twice, [], none), 'B1', behind)).toBeNull()
  })
})
