import { describe, expect, it } from 'vitest'
import { problem } from '../../src/model/problem.ts'
import * as helpText from '../../src/text/helpText.ts'
import { legendStep, legendWord } from '../../src/text/legendText.ts'
import { describeStage, engineTexts } from '../../src/text/progressText.ts'
import { everyLook, lookNames, lookTexts, timesLookNames } from '../../src/text/readingLookText.ts'
import { askToWithdraw, describeShown, describeWithdrawn } from '../../src/text/recordText.ts'
import {
  askToRemove,
  describeFileSaved,
  describeKept,
  describeNotSaved,
  describeRoom,
  savingWords,
} from '../../src/text/savingText.ts'
import { storyCards } from '../../src/text/storyText.ts'
import { wordsFor } from '../../src/text/words.ts'

describe('the looks of readings', () => {
  it('have words and drawings that differ from each other', () => {
    for (const names of [lookNames, timesLookNames]) {
      expect(new Set(names.map((look) => lookTexts[look].word)).size).toBe(names.length)
      expect(new Set(names.map((look) => lookTexts[look].drawn)).size).toBe(names.length)
    }
    const texts = everyLook.map((look) => lookTexts[look])
    expect(texts).toHaveLength(Object.keys(lookTexts).length)
    for (const { meaning } of texts) expect(meaning).toMatch(/^[A-Z].*\.$/)
  })
})

describe('the story', () => {
  it('has at most five cards, each of at most two lines on a phone', () => {
    for (const isTouch of [true, false]) {
      const cards = storyCards(isTouch)
      expect(cards.length).toBeLessThanOrEqual(5)
      for (const { title, text } of cards) {
        expect(title.length).toBeLessThanOrEqual(30)
        expect(text.length).toBeLessThanOrEqual(72)
      }
    }
  })

  it('speaks of taps only where there is a finger', () => {
    const text = (isTouch: boolean) =>
      storyCards(isTouch)
        .map((card) => card.text)
        .join(' ')
    expect(text(true)).toContain('Tap')
    expect(text(false)).not.toContain('Tap')
  })
})

describe('whether the work is kept', () => {
  it('is said to be saved only when it is, and where it can be', () => {
    expect(savingWords('saved', true)).toBe('Saved on this device')
    expect(savingWords('saved', false)).toBe('Not kept on this device')
    expect(savingWords('saving', true)).toBe('Saving')
    expect(savingWords('failed', true)).toBe('Not saved')
    expect(savingWords('readOnly', true)).toBe('Open in another tab')
    expect(savingWords('none', true)).toBe('No site is open')
  })

  it('comes with what to do when it is not', () => {
    const full = problem('storage.full', { name: 'Field', bytes: 5e6, freeBytes: 1e6 })
    expect(describeNotSaved('failed', true, full)).toContain('Save the site as a file now')
    expect(describeNotSaved('failed', true, null)).toContain('Save the site as a file now')
    expect(describeNotSaved('saved', false, null)).toContain('gone when the page closes')
    expect(describeNotSaved('saved', true, null)).toBeNull()
    expect(describeNotSaved('readOnly', true, null)).toBeNull()
  })

  it('tells sizes, times and what the browser did with a file', () => {
    expect(describeRoom(300_000, 5 * 1024 ** 3)).toBe(
      'Kept on this device: less than 1 MB. Room left: about 5 GB.',
    )
    expect(describeRoom(12 * 1024 ** 2, 900 * 1024 ** 2)).toContain('12 MB. Room left: about 900 MB')
    expect(describeKept({ rows: 1, readings: 50, savedAt: '2031-05-04T08:05:00+02:00' })).toBe(
      '1 row, 50 readings, saved 2031-05-04 08:05',
    )
    expect(describeFileSaved({ fileName: 'a.json', isWritten: true })).toBe('Saved as a.json.')
    expect(describeFileSaved({ fileName: 'a.json', isWritten: false })).toContain('among your downloads')
    expect(askToRemove(true)).toContain('open now')
    expect(askToRemove(false)).not.toContain('open now')
  })
})

describe('the list of readings', () => {
  it('counts what is shown and says what withdrawing does', () => {
    expect(describeShown(50, 50)).toBe('50 readings')
    expect(describeShown(2, 50)).toBe('2 of 50 readings')
    expect(askToWithdraw(7)).toContain('stays in the record')
    expect(describeWithdrawn(7)).toMatch(/^Reading 7 withdrawn/)
  })
})

describe('legend, progress and help', () => {
  it('use the words of the site', () => {
    expect(legendWord('rod', wordsFor('metric'))).toBe('earth rod')
    expect(legendWord('rod', wordsFor('us'))).toBe('ground rod')
    expect(legendWord('earthBar', wordsFor('us'))).toBe('ground bar')
  })

  it('tell samples as chances or shares', () => {
    expect(legendStep('suspect', 0.9)).toBe('90 %')
    expect(legendStep('current', 1)).toBe('100 %')
    expect(legendStep('suspect', 1)).toBe('> 99 %')
  })

  it('say what is being worked on, and that nothing entered is lost', () => {
    expect(describeStage('weigh')).toBe('Weighing every joint')
    expect(engineTexts.restarting).toContain('Nothing that you entered is lost')
  })

  it('list each key or gesture once', () => {
    for (const lines of [helpText.mapKeys, helpText.listKeys, helpText.gestures]) {
      expect(new Set(lines.map(({ by }) => by)).size).toBe(lines.length)
    }
  })
})
