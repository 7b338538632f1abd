import { describe, expect, it } from 'vitest'
import { adviseOn, describeWhatHangs } from '../../src/text/adviceText.ts'
import { openNameBook } from '../../src/text/places.ts'
import { answerWith, jumper, threeAlike } from './locateAnswers.ts'
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
    expect(bond).toContain('reading 3 should come back into range, near 30 mΩ')
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

  it('says what hangs on it, where something does', () => {
    expect(describeWhatHangs(jumper)).toBe('If it is open, 120 parts have no metal path to the rest.')
    expect(describeWhatHangs(threeAlike)).toBeNull()
  })
})
