import { describe, expect, it } from 'vitest'
import type { DrillSheet } from '../../src/model/drill.ts'
import { compareAsked, describeAsked } from '../../src/text/drillText.ts'

const sheet = (asked: DrillSheet['asked'], points: number, isFound = true): DrillSheet => ({
  at: '2026-05-12T09:00:00Z',
  site: 'Field',
  trainee: 'T',
  trainer: '',
  seed: 1,
  by: 'seed',
  kit: 'k',
  isFound,
  joint: 'j',
  readings: 4,
  minutes: 12,
  wrongCalls: 0,
  badTests: 0,
  asked,
  points,
})

describe('drills with and without asking the program', () => {
  it('stand side by side', () => {
    const sheets = [
      sheet({ suspects: 0, next: 0 }, 80),
      sheet({ suspects: null, next: null }, 61, false),
      sheet({ suspects: 2, next: null }, 50),
    ]
    expect(compareAsked(sheets)).toEqual([
      'Without asking the program: 2 drills, 1 found; 4 readings, 12 min and 70.5 points on average.',
      'Having asked the program: 1 drill, 1 found; 4 readings, 12 min and 50 points.',
    ])
    expect(compareAsked([])).toEqual([])
  })

  it('say what was asked, or that it could not be', () => {
    expect(describeAsked({ suspects: 1, next: 3 })).toBe('1 × what the readings say, 3 × what next')
    expect(describeAsked({ suspects: null, next: 0 })).toBe('nothing')
    expect(describeAsked({ suspects: null, next: null })).toBe('switched off')
  })
})
