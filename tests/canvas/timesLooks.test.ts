import { describe, expect, it } from 'vitest'
import { drawReadingSample, lookStyles } from '../../src/canvas/readingGlyph.ts'
import { recordingContext } from './recordingContext.ts'

/** Bars across the line, by how many strokes begin beside it. */
function barsOn(look: 'timesNear' | 'timesRaised' | 'timesHigh' | 'timesFar'): number {
  const { context, painted } = recordingContext()
  drawReadingSample(context, look, { widthPx: 72, heightPx: 20 }, { line: '#000000', halo: null })
  const crossing = painted.filter(
    ({ by, path }) => by === 'stroke' && path.some((step) => step.startsWith('lineTo')),
  )
  return crossing.flatMap(({ path }) => path.filter((step) => step.startsWith('moveTo'))).length
}

describe('readings as multiples of what is expected', () => {
  const rising = ['timesNear', 'timesRaised', 'timesHigh', 'timesFar'] as const

  it('are counted by bars across the line, so that no colour is needed', () => {
    expect(rising.map(barsOn)).toEqual([0, 1, 2, 3])
  })

  it('are the heavier the higher', () => {
    const widths = rising.map((look) => lookStyles[look].widthPx)
    expect([...widths].sort((a, b) => a - b)).toEqual(widths)
    expect(new Set(widths).size).toBe(widths.length)
  })
})
