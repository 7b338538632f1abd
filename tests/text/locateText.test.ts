import { describe, expect, it } from 'vitest'
import type { LocateAnswer, ReadingVerdict } from '../../src/model/answers.ts'
import { describeHeadline, headlineOf } from '../../src/text/headlineText.ts'
import { describeLocate } from '../../src/text/locateText.ts'
import { describeNulling, describeReading } from '../../src/text/readingText.ts'
import { describeOneEvidence } from '../../src/text/evidenceText.ts'
import { describeRaisedDetail, describeState } from '../../src/text/suspectText.ts'
import { answerWith, jumper, reading, threeAlike } from './locateAnswers.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()
const wholeText = (answer: LocateAnswer) =>
  describeLocate(answer, book)
    .flatMap(({ title, lines }) => [title, ...lines.map(({ text }) => text)])
    .join('\n')
const headline = (answer: LocateAnswer) => describeHeadline(answer, book)[0].text

describe('headline', () => {
  it('one suspect: a lead for inspection with name, address and chance', () => {
    const text = headline(answerWith())
    expect(text).toContain('Lead for inspection')
    expect(text).toContain('jumper between table 3 and table 4 of row 2 (R2/T3+T4~1)')
    expect(text).toContain('92 % likely, among joints that these readings can show')
  })

  it('right below it: how few joints the readings can show, and what is to be expected among the rest', () => {
    expect(describeHeadline(answerWith(), book)[1].text).toBe(
      'These readings can show 300 of 1240 joints; about 2 bad ones are to be expected among the rest.',
    )
    const all = { ...answerWith().coverage, joints: 300 }
    expect(describeHeadline(answerWith({ coverage: all }), book)).toHaveLength(1)
    expect(describeHeadline(answerWith({ headline: 'noReadings' }), book)).toHaveLength(1)
  })

  it('for the head of a page: what and where, how likely, what to do, each by itself', () => {
    expect(headlineOf(answerWith(), book)).toMatchObject({
      lead: 'Lead for inspection: jumper between table 3 and table 4 of row 2 (R2/T3+T4~1).',
      chance: '92 % likely, among joints that these readings can show.',
      about: ['R2/T3+T4~1'],
    })
    expect(headlineOf(answerWith({ headline: 'doesNotFit' }), book).chance).toBeNull()
  })

  it('a group: how many cannot be told apart', () => {
    expect(headline(answerWith({ groups: [threeAlike] }))).toContain(
      'one of 14 joints that cannot be told apart',
    )
  })

  it('nothing broken: only among what the readings can show', () => {
    const text = headline(
      answerWith({ headline: 'nothingBroken', nothingBrokenProbability: 0.999, groups: [] }),
    )
    expect(text).toContain('> 99 %')
    expect(text).toContain('nothing about the joints they cannot show')
  })

  it('undecided: the candidates, nothing bad at all among them', () => {
    const text = headline(answerWith({ headline: 'undecided', nothingBrokenProbability: 0.3 }))
    expect(text).toContain('do not decide')
    expect(text).toContain('R2/T3+T4~1')
    expect(text).toContain('Nothing bad at all: 30 %.')
  })

  it('no readings, and a drawing that does not fit', () => {
    expect(headline(answerWith({ headline: 'noReadings' }))).toContain('Take readings first')
    expect(headline(answerWith({ headline: 'doesNotFit' }))).toContain('disagree')
  })
})

describe('suspects', () => {
  it('open or raised, whichever is likelier first', () => {
    expect(describeState(jumper)).toBe(
      'If it is bad, it is open (87 %), or raised by about 400 mΩ more than a sound one (90 % between 100 mΩ and 3 Ω).',
    )
    expect(describeState(threeAlike)).toMatch(
      /^If it is bad, it is raised by about 400 mΩ .*, or open \(20 %\)\.$/,
    )
    expect(describeState({ ...jumper, openProbability: 1, addedOhm: null })).toBe(
      'If it is bad, it is open (> 99 %).',
    )
  })

  it('evidence for: what was read, what sound and open joints would read, share, bits', () => {
    const text = describeOneEvidence(answerWith(), jumper, jumper.evidence[0], book)
    expect(text).toBe(
      'Reading 1, frame 1.1, table 4 to frame 1.1, table 1, row 2: speaks strongly for it (9 bits). Read 1.8 Ω. With ' +
        'sound joints the meter should show 31 mΩ give or take 20 mΩ; with it open, 1.9 Ω. 31 % of its current ' +
        'crosses the joint.',
    )
  })

  it('evidence against, and evidence that says nothing', () => {
    const answer = answerWith()
    expect(describeOneEvidence(answer, jumper, jumper.evidence[1], book)).toContain(
      ': speaks clearly against it (2.4 bits).',
    )
    const nothing = describeOneEvidence(answer, jumper, jumper.evidence[2], book)
    expect(nothing).toContain(': says nothing about it. Read over range.')
    expect(nothing).toContain('open, no path')
    expect(nothing).not.toContain('bits')
  })

  it('ohms of the joint itself that fit nothing that was read are a detail, and said to be bypassed', () => {
    const hidden = { ...jumper, addedOhm: { low: 3, middle: 22, high: 680 } }
    expect(describeState(hidden)).toBe(
      'If it is bad, it is open (87 %) or so high in ohms that the current goes by soil instead: these readings do ' +
        'not tell which.',
    )
    expect(describeState({ ...hidden, cutsOffParts: 0, openProbability: 0.2 })).toContain(
      'so high in ohms that the current goes by other metal instead, or open (20 %)',
    )
    expect(describeRaisedDetail(hidden)).toContain('about 22 Ω more in the joint itself')
    expect(describeRaisedDetail(jumper)).toBeNull()
  })

  it('says what a break cuts off, and lists a group without hiding how many are left out', () => {
    const text = wholeText(answerWith({ groups: [jumper, threeAlike] }))
    expect(text).toContain('120 parts have no metal path to the rest.')
    expect(text).toContain('These 14 joints cannot be told apart by the readings taken:')
    expect(text).toContain('(R2/T5/F1.3~L1.4), pierced frame clamp: 20 %')
    expect(text).toContain('and 11 more')
  })

  it('what is not written out is added to what is not listed', () => {
    const answer = answerWith({ groups: [jumper, threeAlike], otherProbability: 0.05 })
    const text = describeLocate(answer, book, { groups: 1 }).find(({ title }) => title === 'Suspects')!
    expect(text.lines.at(-1)!.text).toBe(
      'None bad of the 300 joints that these readings can show: 3 %. Some other joint bad, of those that these ' +
        'readings can show: 62 %. Several joints may be bad at once, so these chances do not add up to 100 %.',
    )
  })
})

describe('readings', () => {
  const withReadings = (...readings: LocateAnswer['readings']) => answerWith({ readings })
  const poor = reading('r1', { readOhm: 0.4, verdict: 'poorContact', poorContactProbability: 0.93 })

  it('poor contact: why, with the readings that contradict a joint, by number', () => {
    const text = describeReading(answerWith({ readings: [poor, reading('r2'), reading('r3')] }), 0, book)
    expect(text).toContain('poor contact probable (93 %)')
    expect(text).toContain('reads 400 mΩ where 31 mΩ give or take 20 mΩ is expected')
    expect(text).toContain('no joint explains it without contradicting reading 2')
  })

  it('poor contact: the repeat after re-seating', () => {
    const text = describeReading(withReadings(poor, reading('r9', { repeats: 'r1' })), 0, book)
    expect(text).toContain('The repeat after re-seating (reading 2) read 30 mΩ.')
    expect(text).not.toContain('contradicting')
  })

  const must: Record<ReadingVerdict, readonly [Partial<Parameters<typeof reading>[1]> & object, string[]]> = {
    inLine: [{}, ['in line', '30 mΩ']],
    highBySuspect: [
      { readOhm: 1.8, expectedWithSuspectOhm: 1.9 },
      ['1.8 Ω', '31 mΩ', '1.9 Ω', 'the jumper between table 3'],
    ],
    poorContact: [{ readOhm: 0.4 }, ['poor contact', 'repeat']],
    highUnexplained: [{ readOhm: 0.4 }, ['neither a joint nor a poor contact', 'repeat']],
    tooLow: [
      { readOhm: 0, tooLowProbability: 0.8 },
      ['lower than the network can read', '80 %', 'one part', 'nulled'],
    ],
    overRange: [{ readOhm: null, overRange: true }, ['over range', 'far-end clip and the lead first']],
    noMetalPath: [{ readOhm: 0.3, path: 'soilOnly' }, ['no metal path', '300 mΩ', 'soil']],
    setAside: [{ setAside: 'withdrawn' }, ['set aside', 'withdrawn']],
  }
  it.each(Object.keys(must) as ReadingVerdict[])('%s', (verdict) => {
    const [change, words] = must[verdict]
    const text = describeReading(withReadings(reading('r1', { ...change, verdict })), 0, book)
    expect(text).toContain('Reading 1, frame 1.1, table 4 to frame 1.1, table 1, row 2: ')
    for (const word of words) expect(text).toContain(word)
    expect(text).not.toMatch(/undefined|NaN|null\b/)
  })

  it('no metal path is said even where no ohms were expected', () => {
    const cut = reading('r1', {
      verdict: 'noMetalPath',
      expectedOhm: Infinity,
      spreadOhm: Infinity,
      expectedWithSuspectOhm: Infinity,
      readOhm: null,
    })
    expect(describeReading(withReadings(cut), 0, book)).toContain('no metal path joins the two as drawn')
  })

  it('only readings out of line are written out, the others counted', () => {
    const text = wholeText(answerWith())
    expect(text).toContain('3 readings, 1 of them as the network predicts.')
    expect(text).not.toContain('Reading 2, frame 1.1, table 4 to frame 1.1, table 1, row 2: read')
  })
})

describe('leads, coverage, fit, notes', () => {
  it('the offset that nulling left, and when it is odd', () => {
    const [nulling] = answerWith().nullings
    expect(describeNulling(nulling, 2)).toBe(
      'Nulling 2, kit kitA, lead lead50 (3 readings): left in the leads +12 mΩ give or take 8 mΩ.',
    )
    expect(describeNulling({ ...nulling, entry: null, offsetOhm: 0.1 }, 3)).toMatch(
      /^Readings without a nulling.*short the leads/,
    )
  })

  it('what could not be seen, why, and what could show it', () => {
    const text = wholeText(answerWith())
    expect(text).toContain('Of 1240 joints that can go bad, 300 would show')
    expect(text).toContain('500 more could be seen')
    expect(text).toContain('440 can never be shown by readings between two points with this kit')
    expect(text).toContain(
      'reads 0.8 mΩ across its own ends when sound and 0.9 mΩ when open. 400 others are like it.',
    )
    for (const means of ['loop clamp', 'clip-on', 'temporary bond', 'torque check'])
      expect(text).toContain(means)
    expect(text).toContain('2.3 bad joints are to be expected among those not seen')
  })

  it('a bad fit names the reading it comes from', () => {
    const text = wholeText(answerWith({ fit: 0.001 }))
    expect(text).toContain('predicts the readings badly: if it holds, < 1 %')
    expect(text).toMatch(/Most of it comes from this one\. Reading 1,/)
    expect(wholeText(answerWith())).toContain('predicts the readings well: if it holds, 43 %')
  })

  it('levels of whole kinds, and of the soil, where the readings say something of them', () => {
    const text = wholeText(
      answerWith({
        levels: [
          { kind: 'jumper', factor: 1.42, low: 1.1, high: 1.8 },
          { kind: 'earthPath', factor: 0.7, low: 0.5, high: 1 },
        ],
      }),
    )
    expect(text).toContain(
      'as a kind: about 1.4 × what the catalogue has (nine times out of ten between 1.1 × and 1.8 ×).',
    )
    expect(text).toContain('Soil as a whole: about 0.70 × what the stated resistivity gives')
    expect(wholeText(answerWith())).not.toContain('whole kinds')
  })

  it('notes are sentences', () => {
    expect(wholeText(answerWith())).toMatch(/Electrodes and posts share soil that counts as one throughout/)
  })

  it('never says safe, and leaves nothing unfilled', () => {
    for (const answer of [answerWith(), answerWith({ groups: [threeAlike], headline: 'undecided', fit: 0 })])
      expect(wholeText(answer)).not.toMatch(/\bsafe\b|undefined|NaN|\[object/i)
  })

  it('sections with nothing to say are left out', () => {
    const empty = answerWith({ groups: [], readings: [], nullings: [], notes: [], headline: 'noReadings' })
    expect(describeLocate(empty, book).map(({ title }) => title)).toEqual([
      'Answer',
      'What could not be seen',
    ])
  })
})
