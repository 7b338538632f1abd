import { describe, expect, it } from 'vitest'
import type { LocateAnswer, ReadingAnswer, ReadingVerdict } from '../../src/model/answers.ts'
import { adviseOn, describeWhatHangs } from '../../src/text/adviceText.ts'
import { readingFacts } from '../../src/text/inspectText.ts'
import { describeReading } from '../../src/text/readingText.ts'
import { answerWith, jumper, reading } from './locateAnswers.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()
const told = (one: ReadingAnswer, change: Partial<LocateAnswer> = {}) =>
  describeReading(answerWith({ readings: [one], ...change }), 0, book)
const clamp = (change: Partial<ReadingAnswer>) =>
  reading('r1', { method: 'loopClamp', around: 'R2/T3+T4~1', to: 'R2/T4/F1.1', contactOhm: 0, ...change })
const electrode = (change: Partial<ReadingAnswer>) =>
  reading('r1', { method: 'earthElectrode', from: 'B1', to: 'earth', contactOhm: 0, ...change })
const over = { readOhm: null, overRange: true, verdict: 'overRange' } as const

const verdicts: readonly ReadingVerdict[] = [
  'inLine',
  'highBySuspect',
  'poorContact',
  'highUnexplained',
  'tooLow',
  'overRange',
  'setAside',
]

describe('over range', () => {
  it('lead or far-end clip first where those explain it best', () => {
    expect(told(reading('r1', { ...over, poorContactProbability: 0.97 }))).toBe(
      'Reading 1, frame 1.1, table 4 to frame 1.1, table 1, row 2: over range where 31 mΩ give or take 20 mΩ is ' +
        'expected. Lead or far-end clip first: a broken lead or a clip that came off explains it best (97 %). Short the ' +
        'leads at their far end and read them before any joint is blamed.',
    )
  })

  it('a run through one lead is told as one', () => {
    const lost = { ...over, poorContactProbability: 0.99 }
    const readings = [
      reading('r1'),
      reading('r2', lost),
      reading('r3', { verdict: 'setAside', setAside: 'withdrawn' }),
      reading('r4', lost),
      reading('r5'),
      reading('r6', lost),
    ]
    const answer = answerWith({ readings })
    expect(describeReading(answer, 1, book)).toContain(
      'explains it best (99 %), as it does all of readings 2 to 4, which followed each other.',
    )
    expect(describeReading(answer, 5, book)).toContain('explains it best (99 %). Short the leads')
  })

  it('a joint that explains it is named, and the lead is still the first to be checked', () => {
    const evidence = [{ ...jumper.evidence[0], readOhm: null, expectedIfBadOhm: Infinity }]
    const open = { ...over, poorContactProbability: 0.08, expectedWithSuspectOhm: Infinity }
    expect(told(reading('r1', open), { groups: [{ ...jumper, evidence }] })).toBe(
      'Reading 1, frame 1.1, table 4 to frame 1.1, table 1, row 2: over range where 31 mΩ give or take 20 mΩ is ' +
        'expected. With the jumper between table 3 and table 4 of row 2 bad, no path is expected. Check the ' +
        'far-end clip and the lead first: a fallen clip or a broken lead reads the same as an open joint.',
    )
  })
})

describe('a loop clamp', () => {
  it('is told as round its joint', () => {
    expect(told(clamp({}))).toBe(
      'Reading 1, loop clamp round the jumper between table 3 and table 4 of row 2: read 30 mΩ, in line with the ' +
        '31 mΩ give or take 20 mΩ expected.',
    )
  })

  it('has jaws and no clips or leads, whatever it says', () => {
    for (const verdict of verdicts) {
      const text = told(clamp(verdict === 'overRange' ? over : { verdict, setAside: 'loopClamp' }))
      expect(text).toContain('loop clamp round the jumper')
      expect(text).not.toMatch(/clips?\b|\bleads?\b|far.end|\bstakes?\b/)
    }
  })

  it('over range means that no current went round', () => {
    expect(told(clamp({ ...over, poorContactProbability: 0.9 }))).toContain(
      'Check first that the jaws were clean and closed fully (90 % likely that they were not); if they were, some ' +
        'joint of the loop is open.',
    )
  })

  it('is set aside with its own reasons', () => {
    const aside = (setAside: ReadingAnswer['setAside'], around: string | null) =>
      told(clamp({ verdict: 'setAside', setAside, around }))
    expect(aside('loopClamp', null)).toBe(
      'Reading 1, loop clamp round a joint that was not noted: set aside, for it was not noted which joint was in the ' +
        'jaws of the loop clamp.',
    )
    expect(aside('noSuchPart', 'R2/T9+T10~1')).toContain('for the drawing has no such joint')
  })

  it('is not repeated under a temporary bond, and says nothing of what a meter reads across', () => {
    const evidence = { ...jumper.evidence[0], share: 1, readOhm: null, expectedIfBadOhm: Infinity }
    const answer = answerWith({ readings: [clamp(over)] })
    const group = { ...jumper, evidence: [evidence] }
    expect(adviseOn(answer, group, book)[2]).toBe('Put a temporary bond across it and read across it again.')
    expect(describeWhatHangs(answer, group, book)).toBe(
      'If it is open, 120 parts have no metal path to the rest.',
    )
  })

  it('has no share of clips and leads in what it should read', () => {
    const names = (one: ReadingAnswer) => readingFacts(one).map(({ name }) => name)
    expect(names(clamp({}))).toEqual(['The meter should show', 'From the loop'])
    expect(names(reading('r1'))).toContain('From the clips')
  })
})

describe('an electrode test', () => {
  it('is told as to earth', () => {
    expect(told(electrode({ readOhm: 20, expectedOhm: 21, spreadOhm: 2 }))).toMatch(
      /^Reading 1, electrode test of Main earth bar to remote earth: read 20 Ω, in line with the 21 Ω/,
    )
  })

  it('has one clip and test stakes, not two clips', () => {
    for (const verdict of verdicts) {
      const text = told(electrode(verdict === 'overRange' ? over : { verdict, setAside: 'electrodeTest' }))
      expect(text).toMatch(/electrode test of Main earth bar/)
      expect(text).not.toMatch(/\bclips\b|far.end|nulled/)
    }
    expect(told(electrode({ verdict: 'setAside', setAside: 'electrodeTest' }))).toContain(
      'has no path to remote earth as drawn',
    )
  })
})
