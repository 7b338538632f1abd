import { describe, expect, it } from 'vitest'
import type { LessonFigure } from '../../../src/model/lessons.ts'
import { fillFigures, formatFigure, noFigure } from '../../../src/text/lessons/fillFigures.ts'

const figures: Readonly<Record<string, LessonFigure>> = {
  amps: { of: 'faultA', in: 'x' },
  ohms: { of: 'networkOhm', in: 'x' },
  times: { of: 'ratio', top: 'amps', bottom: 'amps' },
  acts: { of: 'verdict', in: 'x', device: 'd' },
  feels: { of: 'zone', in: 'x' },
}

describe('texts of a lesson', () => {
  it('have their figures with units, as often as they are named', () => {
    const values = { amps: 14, ohms: Infinity, times: 2.345, acts: 'never', feels: 'heartLikely' } as const
    expect(fillFigures('{amps}, {amps}: {ohms}, {times} times', { figures }, values)).toBe(
      '14 A, 14 A: no path, 2.3 times',
    )
    expect(fillFigures('{acts}/{feels}', { figures }, values)).toBe('NEVER ACTS/deadly')
  })

  it('show that a figure is not known yet, and leave braces of one’s own as they are', () => {
    expect(fillFigures('{amps} {mine} {constructor}', { figures }, {})).toBe(
      `${noFigure} {mine} {constructor}`,
    )
    expect(formatFigure(figures.ohms, null)).toBe(noFigure)
  })
})
