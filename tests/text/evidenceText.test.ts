import { describe, expect, it } from 'vitest'
import type { Evidence } from '../../src/model/answers.ts'
import {
  describeBits,
  evidenceCount,
  evidenceText,
  formatRead,
  isTelling,
  onMeter,
  silentCount,
  strongestFirst,
} from '../../src/text/evidenceText.ts'
import { answerWith, jumper, reading } from './locateAnswers.ts'
import { namedBook } from './namedSite.ts'

const book = namedBook()
const [spoken] = jumper.evidence
const piece = (entry: string, bits: number, share: number): Evidence => ({ ...spoken, entry, bits, share })

describe('how much a reading says', () => {
  it.each([
    [15.4, 'speaks strongly for it'],
    [5, 'speaks strongly for it'],
    [-4.9, 'speaks clearly against it'],
    [2, 'speaks clearly for it'],
    [-1.9, 'speaks weakly against it'],
    [0.3, 'speaks weakly for it'],
    [0.29, 'says nothing about it'],
    [-0.1, 'says nothing about it'],
  ])('%d bits in words: %s', (bits, words) => {
    expect(describeBits(bits)).toBe(words)
  })

  it('comes in words, with the bits apart as a detail', () => {
    const text = evidenceText(answerWith(), jumper, spoken, book)
    expect(text.weight).toBe('speaks strongly for it')
    expect(text.bits).toBe('9 bits')
    expect(text.numbers + text.share).not.toContain('bits')
  })

  it('says most first; what says nothing comes last, by the share of current that crosses', () => {
    const evidence = [piece('a', 0.1, 0.2), piece('b', -7, 0.9), piece('c', 0.02, -0.6), piece('d', 9, 0.1)]
    const sorted = strongestFirst({ ...jumper, evidence })
    expect(sorted.map(({ entry }) => entry)).toEqual(['d', 'b', 'c', 'a'])
    expect(sorted.map(isTelling)).toEqual([true, true, false, false])
  })

  it('is counted: for and against, and what says nothing by itself', () => {
    expect(evidenceCount(jumper)).toBe('1 reading for it, 1 against')
    expect(silentCount(jumper)).toBe('1 reading that says nothing about it')
    expect(silentCount({ ...jumper, evidence: [spoken] })).toBeNull()
  })
})

describe('what the meter should show', () => {
  const answer = answerWith({
    readings: [reading('r1', { readOhm: 1.8, expectedOhm: 0.0459, spreadOhm: 0.019 })],
  })

  it('is the expectation of the reading itself; what is left in the lead is added to a bad joint too', () => {
    const shown = onMeter(answer.readings[0], { ...spoken, expectedSoundOhm: 0.0075, expectedIfBadOhm: 1.9 })
    expect(shown.soundOhm).toBe(0.0459)
    expect(shown.ifBadOhm).toBeCloseTo(1.9384, 12)
  })

  it('is said once, with what it may be off by', () => {
    const evidence = { ...spoken, expectedSoundOhm: 0.0075 }
    expect(evidenceText(answer, jumper, evidence, book).numbers).toBe(
      'Read 1.8 Ω. With sound joints the meter should show 46 mΩ give or take 19 mΩ; with it open, 1.9 Ω.',
    )
  })

  it('stays what the network says where the reading is not there or no path was expected', () => {
    expect(onMeter(undefined, spoken)).toEqual({
      soundOhm: 0.031,
      spreadOhm: Infinity,
      ifBadOhm: 1.9,
      isBesideOthers: false,
    })
    const cut = reading('r1', { expectedOhm: Infinity })
    expect(onMeter(cut, spoken).ifBadOhm).toBe(1.9)
  })
})

describe('what a meter showed', () => {
  it('is below one of its steps where it showed zeros, by the finest digit that the same instrument showed', () => {
    const zero = reading('r1', { readOhm: 0 })
    const other = reading('r2', { readOhm: 0.0004, kit: 'kitB' })
    const answer = answerWith({ readings: [zero, reading('r3', { readOhm: 0.03 }), other] })
    expect(formatRead(answer, zero)).toBe('below 10 mΩ')
    expect(formatRead(answer, other)).toBe('0.4 mΩ')
    expect(formatRead(answerWith({ readings: [zero] }), zero)).toBe('0 Ω')
  })
})
