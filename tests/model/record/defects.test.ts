import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { defectsOf, isOpenDefect, nextDefectNumber, openWork } from '../../../src/model/record/defects.ts'
import { retestVerdicts, type RetestVerdict } from '../../../src/model/record/retestVerdicts.ts'
import type { Entry } from '../../../src/model/schema/record.ts'
import { Writer } from './writer.ts'

const J1 = 'R1/T1/F1.1-F1.2'
const J2 = 'R1/T1/F1.2-F1.3'

/** A reading that proves, a defect on it, a look that finds, a repair, a reading after it. */
function story(device = 1, number = 1) {
  const w = new Writer(device)
  const high = w.reading('R1/T1/F1.1', 'B1', 2)
  const defect = w.defect(number, [J1, J2], [high.id])
  const look = w.look(J2, ['loose'])
  const repair = w.repair(J2, 'retorqued', 'notTouched')
  const again = w.reading('B1', 'R1/T1/F1.1', 0.02)
  return { w, high, defect, look, repair, again }
}

const verdicts = (good: readonly string[], bad: readonly string[] = []) =>
  new Map<string, RetestVerdict>([
    ...good.map((id) => [id, 'good'] as const),
    ...bad.map((id) => [id, 'bad'] as const),
  ])

describe('defects of a record', () => {
  it('are suspected when opened, and the record proposes what it proves, in order', () => {
    const { w, high, look, repair, again } = story()
    const [one] = defectsOf(w.record, verdicts([again.id], [high.id]))
    expect(one).toMatchObject({ label: 'D1', state: 'suspected', joints: [J1, J2] })
    expect(one.proposed).toEqual([
      { state: 'confirmed', joint: J2, proof: [look.id] },
      { state: 'repaired', joint: J2, proof: [repair.id] },
      { state: 'retested', joint: J2, proof: [again.id] },
    ])
  })

  it('count as retested only by a reading after the repair that is in line and within its criterion', () => {
    const { w, high, again } = story()
    const states = (judged: ReadonlyMap<string, RetestVerdict>) =>
      defectsOf(w.record, judged)[0].proposed.map(({ state }) => state)
    expect(states(verdicts([], [again.id]))).toEqual(['confirmed', 'repaired'])
    expect(states(verdicts([high.id]))).toEqual(['confirmed', 'repaired'])
    const later = w.reading('R1/T1/F1.1', 'B1', 3)
    // the latest of two decides
    expect(states(verdicts([again.id], [later.id]))).toEqual(['confirmed', 'repaired'])
    const elsewhere = w.reading('R1/T2/F1.1', 'B1', 0.02)
    expect(states(verdicts([elsewhere.id], [later.id]))).toEqual(['confirmed', 'repaired'])
  })

  it('reopen when the reading that closed them is corrected or withdrawn', () => {
    for (const change of ['correction', 'withdrawal'] as const) {
      const { w, defect, repair, again } = story()
      w.step(defect.id, 'repaired', J2, [repair.id])
      w.step(defect.id, 'retested', J2, [again.id])
      const judged = verdicts([again.id])
      const [closed] = defectsOf(w.record, judged)
      expect(closed.state).toBe('retested')
      expect(isOpenDefect(closed)).toBe(false)
      expect(closed.outstanding).toEqual([])
      const by = change === 'correction' ? w.correction(again.id, 0.9) : w.withdrawal(again.id)
      const [open] = defectsOf(w.record, verdicts([], change === 'correction' ? [again.id] : []))
      expect(open.state).toBe('repaired')
      expect(isOpenDefect(open)).toBe(true)
      expect(open.history.at(-1)?.overturnedBy).toEqual([by.id])
      expect(open.outstanding).toContainEqual({
        what: 'reopened',
        step: open.history[1].step.id,
        by: [by.id],
      })
      expect(open.outstanding).toContainEqual(
        change === 'correction' ? { what: 'retestBad', reading: again.id } : { what: 'retest' },
      )
    }
  })

  it('stay closed when the proof was corrected before it was taken for proof', () => {
    const { w, defect, repair, again } = story()
    w.correction(again.id, 0.021)
    w.step(defect.id, 'repaired', J2, [repair.id])
    w.step(defect.id, 'retested', J2, [again.id])
    expect(defectsOf(w.record, verdicts([again.id]))[0].state).toBe('retested')
  })

  it('go back to what they were when a step is withdrawn, and are not open once dismissed', () => {
    const { w, defect, repair } = story()
    const step = w.step(defect.id, 'repaired', J2, [repair.id])
    w.withdrawal(step.id)
    const [one] = defectsOf(w.record, new Map())
    expect(one.state).toBe('suspected')
    expect(one.outstanding).toEqual([])
    w.step(defect.id, 'dismissed', null, [])
    const [dismissed] = defectsOf(w.record, new Map())
    expect(isOpenDefect(dismissed)).toBe(false)
    expect(dismissed.proposed).toEqual([])
  })

  it('are not retested through a temporary bond', () => {
    const w = new Writer(1)
    const high = w.reading('R1/T1/F1.1', 'B1', 2)
    const defect = w.defect(1, [J1], [high.id])
    const repair = w.repair(J1, 'retorqued', 'stillOpen')
    w.step(defect.id, 'repaired', J1, [repair.id])
    const bond = w.repair(J1, 'temporaryBond', 'notTouched')
    const again = w.reading('R1/T1/F1.1', 'B1', 0.02)
    const [one] = defectsOf(w.record, verdicts([again.id]))
    expect(one.proposed).toEqual([])
    expect(one.outstanding).toEqual([
      { what: 'retest' },
      { what: 'coating', joint: J1, repair: repair.id },
      { what: 'temporaryBond', joint: J1, repair: bond.id },
    ])
  })

  it('are still retested when the coating was made good after the reading', () => {
    const { w, again } = story()
    w.repair(J2, 'other', 'madeGood')
    expect(defectsOf(w.record, verdicts([again.id]))[0].proposed.at(-1)).toMatchObject({ state: 'retested' })
  })

  it('propose a second repair after a retest that was not good', () => {
    const { w, defect, repair, again } = story()
    w.step(defect.id, 'repaired', J2, [repair.id])
    const second = w.repair(J2, 'replaced', 'notTouched')
    const good = w.reading('R1/T1/F1.1', 'B1', 0.02)
    expect(defectsOf(w.record, verdicts([good.id], [again.id]))[0].proposed).toEqual([
      { state: 'repaired', joint: J2, proof: [second.id] },
      { state: 'retested', joint: J2, proof: [good.id] },
    ])
  })

  it('keep their letters where two devices gave one number, however the records were joined', () => {
    const random = randomStream(7)
    for (let trial = 0; trial < 40; trial++) {
      const parts = [1, 2, 3].map((device) => story(device, 1 + random.integer(2)).w.record)
      const judged = verdicts([])
      const reference = defectsOf(parts.flat(), judged)
      const shuffled: Entry[] = parts.flat()
      for (let k = shuffled.length - 1; k > 0; k--) {
        const j = random.integer(k + 1)
        ;[shuffled[k], shuffled[j]] = [shuffled[j], shuffled[k]]
      }
      expect(defectsOf(shuffled, judged)).toEqual(reference)
      const labels = reference.map(({ label }) => label)
      expect(new Set(labels).size).toBe(3)
      const numbers = reference.map(({ defect }) => defect.number)
      for (const { label, defect } of reference) {
        const isAlone = numbers.filter((n) => n === defect.number).length === 1
        expect(label).toMatch(isAlone ? /^D\d$/ : /^D\d[abc]$/)
      }
      expect(nextDefectNumber(shuffled)).toBe(1 + Math.max(...numbers))
    }
  })

  it('tell which coatings are open', () => {
    const w = new Writer(1)
    const first = w.repair(J1, 'cleaned', 'stillOpen')
    w.repair(J2, 'cleaned', 'stillOpen')
    w.repair(J2, 'other', 'madeGood')
    expect(openWork(w.record)).toEqual([{ what: 'coating', joint: J1, repair: first.id }])
    w.withdrawal(first.id)
    expect(openWork(w.record)).toEqual([])
  })
})

describe('what a reading says as a retest', () => {
  it('needs both the criterion and the network, and nothing of a reading set aside', () => {
    const judged = (['within', 'within', 'investigate', 'none', 'within'] as const).map((verdict, k) => ({
      entry: `${k}`,
      verdict,
    }))
    const located = (['inLine', 'highBySuspect', 'inLine', 'inLine', 'setAside', 'inLine'] as const).map(
      (verdict, k) => ({ entry: `${k}`, verdict }),
    )
    expect([...retestVerdicts(judged, located)]).toEqual([
      ['0', 'good'],
      ['1', 'bad'],
      ['2', 'bad'],
      ['3', 'good'],
    ])
  })
})
