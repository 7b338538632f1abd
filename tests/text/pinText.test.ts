import { describe, expect, it } from 'vitest'
import type { Evidence, SuspectGroup } from '../../src/model/answers.ts'
import { describePin } from '../../src/text/pinText.ts'
import { answerWith, jumper, reading } from './locateAnswers.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()
const piece = (entry: string, bits: number, share: number): Evidence => ({
  ...jumper.evidence[0],
  entry,
  bits,
  share,
})
const first = { ...jumper, evidence: [piece('r1', 15, 0.99), piece('r2', 0, 0.002)] }
const before: SuspectGroup = {
  ...jumper,
  joints: [{ joint: 'R2/T2+T3~1', kind: 'jumper', probability: 0.008 }],
  probability: 0.008,
  evidence: [piece('r1', 15, 0.99), piece('r2', -7, 0.99)],
}
const readings = [
  reading('r1', { from: 'R2/T1/F1.1', to: 'R2/T4/F1.1', readOhm: 2.15 }),
  reading('r2', { from: 'R2/T1/F1.1', to: 'R2/T3/F1.1', readOhm: 0.01 }),
]
const answer = answerWith({ groups: [first, before], readings })

describe('what rules out the joints before a suspect', () => {
  it('is the reading that crosses the next suspect and not the first', () => {
    expect(describePin(answer, first, book)).toBe(
      'Reading 2 is low (10 mΩ) from table 1 to table 3, row 2: joints that its current crosses look sound, so the ' +
        'fault lies beyond.',
    )
  })

  it('names the parts where its ends are not two tables of one row', () => {
    const fromBar = [readings[0], { ...readings[1], from: 'B1' }]
    expect(describePin({ ...answer, readings: fromBar }, first, book)).toContain(
      'from Main earth bar to frame 1.1, table 3, row 2: ',
    )
  })

  it('says elsewhere where no reading goes on from the same end', () => {
    const apart = [{ ...readings[0], from: 'B1' }, readings[1]]
    expect(describePin({ ...answer, readings: apart }, first, book)).toMatch(/the fault lies elsewhere\.$/)
  })

  it.each<[string, Evidence]>([
    ['it speaks weakly', piece('r2', -1, 0.99)],
    ['it speaks for the other', piece('r2', 7, 0.99)],
    ['little of its current crosses the other', piece('r2', -7, 0.2)],
    ['it crosses the first too', piece('r1', -7, 0.99)],
    ['it is not in the record', piece('r9', -7, 0.99)],
  ])('is not said where %s', (_, evidence) => {
    const other = { ...before, evidence: [evidence] }
    expect(describePin({ ...answer, groups: [first, other] }, first, book)).toBeNull()
  })

  it('is said of the first suspect alone', () => {
    expect(describePin(answer, before, book)).toBeNull()
  })
})
