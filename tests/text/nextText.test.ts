import { describe, expect, it } from 'vitest'
import type { NextAction, NextAnswer, Outcome } from '../../src/model/answers.ts'
import {
  describeAction,
  describeActionDetails,
  describeExpected,
  describeNext,
  describeOutcome,
  describeStop,
  formatMinutes,
} from '../../src/text/nextText.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()

const below: Outcome = {
  when: 'below',
  fromOhm: null,
  toOhm: 0.22,
  probability: 0.33,
  leader: 'nothing',
  group: null,
  leaderProbability: 0.71,
  joints: [],
  jointCount: 0,
}
const above: Outcome = {
  ...below,
  when: 'above',
  fromOhm: 0.22,
  toOhm: null,
  probability: 0.67,
  leader: 'group',
  group: 0,
  leaderProbability: 0.98,
  joints: ['R2/T3+T4~1', 'R2/T4+T5~1'],
  jointCount: 2,
}
const pair: NextAction = {
  kind: 'pair',
  minutes: 1.7,
  bits: 0.9,
  from: 'R2/T1/F1.1',
  to: 'R2/T4/F1.2',
  kit: 'kitA',
  lead: 'lead50',
  expectedOhm: { low: 0.048, middle: 2.1, high: 2.2 },
  outcomes: [below, above],
}
const retorque: NextAction = {
  kind: 'retorque',
  minutes: 4,
  bits: 0.5,
  joint: 'R2/T3+T4~1',
  group: 0,
  outcomes: [
    { ...above, when: 'bad', fromOhm: null, joints: ['R2/T3+T4~1'], jointCount: 1 },
    { ...below, when: 'sound', toOhm: null },
  ],
}
const answer: NextAnswer = {
  basis: { drawingRevision: '00000000-0000-4000-8000-000000000002', recordLength: 5 },
  stop: 'goOn',
  actions: [pair, retorque],
  entropyBits: 1.8,
  considered: 400,
  leftOutPairs: 20,
}
const textOf = (action: NextAction) => describeActionDetails(answer, action, book).map(({ text }) => text)

describe('next actions in words', () => {
  it('a pair: where the clips go, what to expect, what each outcome would mean', () => {
    expect(describeAction(pair, book)).toBe(
      'Read frame 1.1, table 1 to frame 1.2, table 4, row 2: about 2 minutes',
    )
    expect(textOf(pair)).toEqual([
      'Reference clip at R2/T1/F1.1, second clip at R2/T4/F1.2.',
      'Nine times in ten it reads between 48 mΩ and 2.2 Ω.',
      'Below 220 mΩ (33 %): then it is 71 % likely that none of the suspects that this bears on is bad.',
      'Above 220 mΩ (67 %): then it is 98 % likely that at least one of these 2 joints is bad: the jumper between table 3 and table 4 of ' +
        'row 2 and the jumper between table 4 and table 5 of row 2.',
      'On average this settles 50 % of what is still open.',
    ])
  })

  it('a torque check asks for a temporary bond before anything is opened', () => {
    const text = textOf(retorque)
    const bond = text.findIndex((line) => line.includes('temporary bond'))
    expect(text[bond]).toMatch(/before it is loosened or opened/)
    expect(text[bond]).toContain('earthing conductor in place')
    expect(bond).toBeLessThan(text.findIndex((line) => line.startsWith('Found bad')))
    expect(text).toContain(
      'Found bad (67 %): then the jumper between table 3 and table 4 of row 2 is 98 % likely to be bad.',
    )
    expect(text.some((line) => line.startsWith('Nothing found (33 %)'))).toBe(true)
  })

  it('a look that finds nothing leaves a joint suspect that the readings speak for', () => {
    const sound: Outcome = { ...above, when: 'sound', fromOhm: null, joints: ['R2/T3+T4~1'], jointCount: 1 }
    expect(describeOutcome(retorque, sound, book)).toBe(
      'Nothing found (67 %): then the jumper between table 3 and table 4 of row 2 is still 98 % likely to be bad.',
    )
  })

  it('a repeat says that the contacts are renewed, shorted leads what they are for, a look at several which', () => {
    expect(textOf({ ...pair, kind: 'repeat' })[0]).toContain('clean the metal and seat them afresh')
    expect(describeAction({ ...pair, kind: 'shortLeads', minutes: 1 }, book)).toBe(
      'Short the leads at their far end and read them: about 1 minute',
    )
    const look: NextAction = { ...retorque, kind: 'look', joints: ['R2/T3+T4~1', 'R2/T4+T5~1'] }
    expect(describeAction(look, book)).toContain('Look at 2 joints')
    const lines = textOf(look)
    expect(lines).toContain('Jumper between table 4 and table 5 of row 2 (R2/T4+T5~1)')
    expect(lines.join(' ')).toContain('None of them found bad (33 %)')
  })

  it('expected ohms: over range, up to over range, one number', () => {
    expect(describeExpected({ low: 0.03, middle: 0.03, high: Infinity })).toBe(
      'Nine times in ten it reads 30 mΩ or more, up to over range.',
    )
    expect(describeExpected({ low: Infinity, middle: Infinity, high: Infinity })).toContain('over range')
    expect(describeExpected({ low: 1.001, middle: 1.002, high: 1.003 })).toBe(
      'It reads about 1 Ω, as far as can be told.',
    )
  })

  it('an outcome without ends is any reading in range; between has both', () => {
    expect(describeOutcome(pair, { ...below, toOhm: null }, book)).toMatch(/^Any reading within range/)
    const between: Outcome = { ...above, when: 'between', fromOhm: 0.05, toOhm: 2.1 }
    expect(describeOutcome(pair, between, book)).toMatch(/^Between 50 mΩ and 2.1 Ω \(67 %\)/)
    expect(describeOutcome(pair, { ...above, when: 'overRange' }, book)).toMatch(/^Over range/)
  })

  it('minutes as one says them', () => {
    expect(['0.4', '1.5', '7.2', '121'].map((m) => formatMinutes(Number(m)))).toEqual([
      'about 1 minute',
      'about 2 minutes',
      'about 7 minutes',
      'about 2 hours',
    ])
  })

  it('whether to go on, for every stop; no text calls anything safe', () => {
    const stops = ['goOn', 'foundIt', 'nothingWorthIt', 'noReadings'] as const
    const said = stops.flatMap((stop) =>
      [answer.actions, []].map((actions) => describeStop({ ...answer, stop, actions })),
    )
    expect(new Set(said).size).toBe(6)
    expect(describeStop({ ...answer, stop: 'foundIt', actions: [] })).toContain('temporary bond')
    expect(describeStop({ ...answer, stop: 'goOn', entropyBits: 0.1 })).toMatch(/^One explanation leads/)
    expect(describeStop({ ...answer, stop: 'goOn', entropyBits: 2 })).toMatch(/^The readings leave open/)
    // several joints may be bad: no stop speaks of the one, nor of the first as ahead of the others
    expect(said.join(' ')).not.toMatch(/which joint is bad|far ahead/)
    const all = describeNext(answer, book).flatMap(({ title, lines }) => [title, ...lines.map((l) => l.text)])
    expect([...said, ...all].join(' ')).not.toMatch(/\bsafe\b|NaN|undefined|null/i)
    expect(all[0]).toBe('What to do next')
  })
})
