import { describe, expect, it } from 'vitest'
import type { LocateAnswer, SuspectGroup } from '../../src/model/answers.ts'
import { adviseOn } from '../../src/text/adviceText.ts'
import { describeCounts, describeHowMany, likeliestCount } from '../../src/text/badCountText.ts'
import { describeDoubts, describeToningDown } from '../../src/text/doubtText.ts'
import { evidenceText } from '../../src/text/evidenceText.ts'
import { describeHeadline, headlineOf } from '../../src/text/headlineText.ts'
import { describeFit, describeLocate } from '../../src/text/locateText.ts'
import { describeReading } from '../../src/text/readingText.ts'
import { answerWith, jumper, reading } from './locateAnswers.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()
const counted = (...badCount: number[]) => answerWith({ badCount })

const bits = (entry: string, given: number) => ({ ...jumper.evidence[0], entry, bits: given })
const groupAt = (joint: string, probability: number, change: Partial<SuspectGroup> = {}): SuspectGroup => ({
  ...jumper,
  joints: [{ joint, kind: 'jumper', probability }],
  probability,
  evidence: [bits('r1', 6), bits('r2', 7)],
  ...change,
})
const first = groupAt('R2/T3+T4~1', 0.97)
const second = groupAt('R2/T1+T2~1', 0.93)

describe('how many joints are bad', () => {
  it('the likeliest number by itself where it has most of the chance, else with the numbers beside it', () => {
    expect(describeHowMany(counted(0.01, 0.1, 0.8, 0.09))).toBe('Probably two bad joints')
    expect(describeHowMany(counted(0, 0.05, 0.5, 0.4, 0.05))).toBe('Probably two or three bad joints')
    expect(describeHowMany(counted(0, 0.05, 0.2, 0.4, 0.25, 0.1))).toBe('Probably two to four bad joints')
    expect(describeHowMany(counted(0.3, 0.3, 0.4))).toBe('Probably one or two bad joints')
    expect(likeliestCount(counted(0.1, 0.2, 0.7))).toBe(2)
  })

  it('one line of chances, only where more than one may well be bad', () => {
    expect(describeCounts(counted(0.04, 0.62, 0.27, 0.06, 0.01))).toBe(
      'One bad joint: 62 %, two: 27 %, three or more: 7 %.',
    )
    expect(describeCounts(counted(0.5, 0.45, 0.05))).toBeNull()
    expect(describeCounts(counted(0, 0, 0.97, 0.03))).toBe('Two bad joints: 97 %, three or more: 3 %.')
    expect(describeCounts(counted(0, 0.01, 0.04, 0.5, 0.3, 0.15))).toBe(
      'Fewer than two bad joints: 1 %, two: 4 %, three: 50 %, four or more: 45 %.',
    )
  })

  it('stands at the head of the suspects', () => {
    const sections = describeLocate(counted(0.04, 0.62, 0.34), book)
    const suspects = sections.find(({ title }) => title === 'Suspects')
    expect(suspects?.lines[0].text).toBe('One bad joint: 62 %, two: 34 %.')
    const one = describeLocate(answerWith(), book).find(({ title }) => title === 'Suspects')
    expect(one?.lines[0].text).toMatch(/^1\. Jumper/)
  })
})

describe('headline with several bad joints', () => {
  const two = answerWith({ groups: [first, second], badCount: [0, 0.05, 0.9, 0.05] })

  it('says how many and names the first ones, each with its own chance', () => {
    expect(describeHeadline(two, book).map(({ text }) => text)).toEqual([
      'Probably two bad joints. Leads for inspection:',
      'Jumper between table 3 and table 4 of row 2 (R2/T3+T4~1), 97 % likely.',
      'Jumper between table 1 and table 2 of row 2 (R2/T1+T2~1), 93 % likely.',
      'Each by itself, among joints that these readings can show. Look at each and check its torque, then put a ' +
        'temporary bond across one at a time and repeat the readings that speak for it. One that is put right does not ' +
        'clear the others.',
      'These readings can show 300 of 1240 joints; about 2 bad ones are to be expected among the rest.',
    ])
  })

  it('names three at most and counts the others; a single reading convicts none of them', () => {
    const single = groupAt('R2/T4+T5~1', 0.8, { evidence: [bits('r1', 6), bits('r2', 0.2)] })
    const others = ['R2/T5+T6~1', 'R2/T6+T7~1'].map((joint) => groupAt(joint, 0.6))
    const five = answerWith({ groups: [first, second, single, ...others], badCount: [0, 0, 0, 0, 0, 1] })
    const { lead, suspects, chance } = headlineOf(five, book)
    expect(lead).toBe('Probably five bad joints. Leads for inspection:')
    expect(suspects).toHaveLength(3)
    expect(suspects[2].text).toMatch(/, 80 % likely on a single reading: repeat that first\.$/)
    expect(chance).toContain('2 more leads of that kind below.')
  })

  it('says where the rest is open', () => {
    const answer = answerWith({ groups: [first, groupAt('R2/T1+T2~1', 0.3)], badCount: [0, 0.1, 0.9] })
    const { lead, suspects, chance } = headlineOf(answer, book)
    expect(lead).toBe('Probably two bad joints. Lead for inspection:')
    expect(suspects).toHaveLength(1)
    expect(chance).toBe(
      'Among joints that these readings can show. The readings leave open where the rest are.',
    )
  })

  it('stays with one where one is likeliest', () => {
    const answer = answerWith({ groups: [first, second], badCount: [0, 0.6, 0.4] })
    expect(headlineOf(answer, book)).toMatchObject({
      lead: 'Lead for inspection: jumper between table 3 and table 4 of row 2 (R2/T3+T4~1).',
      suspects: [],
    })
  })

  it('undecided: a first suspect that a single reading speaks for is said to be that', () => {
    const answer = answerWith({ headline: 'undecided', nothingBrokenProbability: 0.1 })
    expect(headlineOf(answer, book).chance).toBe(
      'Likeliest to be bad: jumper between table 3 and table 4 of row 2 (R2/T3+T4~1) (92 %). Nothing bad at all: 10 %. ' +
        'Only a single reading speaks for the first so far, and that convicts no joint.',
    )
  })
})

describe('what stands against all chances', () => {
  it('nothing where the readings fit and everything was weighed', () => {
    expect(describeDoubts(answerWith())).toEqual([])
    expect(describeToningDown(answerWith())).toBeNull()
    expect(describeDoubts(answerWith({ headline: 'noReadings', trust: 0.5, unexplored: 0.5 }))).toEqual([])
  })

  it('a site that fits its drawing badly', () => {
    const answer = answerWith({ trust: 0.25, fit: 0.002 })
    expect(describeDoubts(answer)).toEqual([
      'The site does not behave as it is drawn: the readings scatter more than instrument, clips and sound joints ' +
        'account for. All chances here were toned down for that.',
    ])
    expect(describeFit(answer, book).at(-1)?.text).toMatch(
      /^The site does not behave as it is drawn, so every reading was taken to be 2\.0 times as uncertain/,
    )
    expect(describeDoubts({ ...answer, headline: 'doesNotFit' })).toEqual([
      'All chances below were toned down for that.',
    ])
    expect(describeHeadline(answer, book)[1].text).toMatch(/^The site does not behave as it is drawn/)
  })

  it('the reading that fits worst is none that a poor contact explains', () => {
    const spoilt = reading('r1', { readOhm: 1.6, verdict: 'poorContact', poorContactProbability: 0.99 })
    const odd = reading('r2', { readOhm: 0.2, verdict: 'highUnexplained' })
    const [text] = describeFit(answerWith({ fit: 0.002, readings: [spoilt, odd] }), book)
    expect(text.text).toMatch(/Most of it comes from this one\. Reading 2,/)
  })

  it('combinations that were not tried', () => {
    expect(describeDoubts(answerWith({ unexplored: 0.12 }))).toEqual([
      'Not all combinations of bad joints were tried: about 12 % of what may be the case was left out, and counts as ' +
        'some other joint that is bad. Put right what is sure, read again and ask again.',
    ])
    expect(describeDoubts(answerWith({ unexplored: 0.04 }))).toEqual([])
  })
})

describe('evidence beside other bad joints', () => {
  const read = reading('r1', { readOhm: 4.1, expectedOhm: 0.04, spreadOhm: 0.02, leadOffsetOhm: 0.02 })
  const evidence = { ...jumper.evidence[0], readOhm: 4.1, expectedSoundOhm: 2.1, expectedIfBadOhm: 4.2 }
  const answer = answerWith({ readings: [read] })

  it('is told against the site with those bad, not against a sound one', () => {
    expect(evidenceText(answer, jumper, evidence, book).numbers).toBe(
      'Read 4.1 Ω. With the other suspects bad and this one sound the meter should show 2.1 Ω; with it open too, 4.2 Ω.',
    )
    const one = answerWith({ readings: [read], groups: [second, jumper] })
    expect(evidenceText(one, jumper, evidence, book).numbers).toContain('With the other suspect bad and')
  })

  it('is what a repeat under a temporary bond should fall to', () => {
    const [, , bond] = adviseOn(answer, { ...jumper, evidence: [evidence] }, book)
    expect(bond).toContain('should fall from 4.1 Ω to about 2.1 Ω, what the other suspects leave of it.')
  })

  it('a rise beyond what the joint would be raised by is told of an open one', () => {
    const raised = { ...jumper, openProbability: 0.4, addedOhm: { low: 0.04, middle: 0.07, high: 0.11 } }
    const ofOpen = { ...jumper.evidence[0], expectedSoundOhm: 0.02, expectedIfBadOhm: 1.4 }
    const plain = answerWith({ readings: [reading('r1')] })
    expect(evidenceText(plain, raised, ofOpen, book).numbers).toMatch(/; with it open, 1\.4 Ω\.$/)
    const ofRaised = { ...ofOpen, expectedIfBadOhm: 0.09 }
    expect(evidenceText(plain, raised, ofRaised, book).numbers).toMatch(/; with it raised, 100 mΩ\.$/)
  })

  it('a poor contact on top of a bad joint: what the joint explains, and that the rest is the contact', () => {
    const read = reading('r1', {
      readOhm: 3.9,
      verdict: 'poorContact',
      poorContactProbability: 0.76,
      expectedWithSuspectOhm: 2.7,
    })
    const crossing = {
      entry: 'r1',
      bits: 5,
      share: 1,
      readOhm: 3.9,
      expectedSoundOhm: 0.03,
      expectedIfBadOhm: 2.7,
    }
    const groups = [groupAt('R2/T3+T4~1', 0.95, { evidence: [crossing] })]
    expect(describeReading(answerWith({ readings: [read], groups }), 0, book)).toContain(
      'poor contact probable (76 %). It reads 3.9 Ω where 31 mΩ give or take 20 mΩ is expected. With the jumper between ' +
        'table 3 and table 4 of row 2 bad, 2.7 Ω is expected; a poor contact explains the rest better than another bad ' +
        'joint. Take the clips off',
    )
  })

  it('a high reading names every suspect that it crosses and no other', () => {
    const high = reading('r1', { readOhm: 4.1, verdict: 'highBySuspect', expectedWithSuspectOhm: 4.2 })
    const crossing = {
      entry: 'r1',
      bits: 5,
      share: 1,
      readOhm: 4.1,
      expectedSoundOhm: 2.1,
      expectedIfBadOhm: 4.2,
    }
    const groups: LocateAnswer['groups'] = [
      { ...first, evidence: [{ ...crossing, share: 0, expectedIfBadOhm: 2.1 }] },
      { ...second, evidence: [crossing] },
      groupAt('R2/T4+T5~1', 0.6, { evidence: [crossing] }),
    ]
    expect(describeReading(answerWith({ readings: [high], groups }), 0, book)).toContain(
      'With the jumper between table 1 and table 2 of row 2 and the jumper between table 4 and table 5 of row 2 bad, ' +
        '4.2 Ω is expected.',
    )
  })
})
