import { describe, expect, it } from 'vitest'
import { adviseOn, describeWhatHangs } from '../../src/text/adviceText.ts'
import { openNameBook } from '../../src/text/places.ts'
import { answerWith, jumper, reading, threeAlike } from './locateAnswers.ts'
import { namedDrawing } from './namedSite.ts'

const book = openNameBook(namedDrawing())

describe('what to do about a suspect', () => {
  const steps = adviseOn(answerWith(), jumper, book)

  it('begins with a look and the torque, and goes on to a temporary bond', () => {
    expect(steps[0]).toMatch(/^Look at it/)
    expect(steps[1]).toMatch(/^Check the torque of it/)
    expect(steps[2]).toMatch(/^Put a temporary bond across it/)
  })

  it('names the reading to repeat under the bond and what it should fall to', () => {
    expect(steps[2]).toContain('repeat reading 1')
    expect(steps[2]).toContain('should fall from 1.8 Ω to about 31 mΩ')
  })

  it('says what over range should come back to', () => {
    const evidence = [
      { entry: 'r3', bits: 5, share: 1, readOhm: null, expectedSoundOhm: 0.03, expectedIfBadOhm: Infinity },
    ]
    const [, , bond] = adviseOn(answerWith(), { ...jumper, evidence }, book)
    expect(bond).toContain('reading 3 should come back into range, near 31 mΩ')
  })

  it('says so when several joints read the same, and when no reading speaks for them', () => {
    const several = adviseOn(answerWith({ groups: [threeAlike] }), threeAlike, book)
    expect(several[2]).toContain('tells these 14 joints apart')
    expect(several[3]).toBe('Put a temporary bond across one at a time and read across it again.')
  })

  it('uses the words of the site for the conductor that stays in place', () => {
    const us = adviseOn(answerWith(), jumper, openNameBook(namedDrawing('us')))
    expect(us.at(-1)).toContain('grounding electrode conductor (GEC)')
    expect(steps.at(-1)).toContain('earthing conductor')
  })

  it('never promises anything', () => {
    expect(steps.join(' ')).not.toMatch(/\bsafe\b/i)
  })

  it('says what the meter reads beyond the break: earth, in the words of the site, or over range', () => {
    const [first] = jumper.evidence
    const across = { ...jumper, evidence: [{ ...first, share: 0.99 }] }
    expect(describeWhatHangs(answerWith(), across, book)).toContain(
      'returns through earth, by posts and rods',
    )
    expect(describeWhatHangs(answerWith(), across, openNameBook(namedDrawing('us')))).toContain(
      'returns through ground',
    )
    const noSoil = { ...jumper, evidence: [{ ...first, share: 1, expectedIfBadOhm: Infinity }] }
    expect(describeWhatHangs(answerWith(), noSoil, book)).toContain('a meter reads over range across it')
  })

  it('counts what is left in the lead into what the reading should fall to', () => {
    const answer = answerWith({ readings: [reading('r1', { readOhm: 2.15, expectedOhm: 0.0459 })] })
    expect(adviseOn(answer, jumper, book)[2]).toContain('should fall from 2.15 Ω to about 46 mΩ')
  })

  it('says what hangs on it, where something does', () => {
    expect(describeWhatHangs(answerWith(), jumper, book)).toBe(
      'If it is open, 120 parts have no metal path to the rest.',
    )
    expect(describeWhatHangs(answerWith(), threeAlike, book)).toBeNull()
  })
})
