import { describe, expect, it } from 'vitest'
import { drawScenario } from '../generator/drawScenario.ts'
import { families } from '../generator/families.ts'
import { typedSite } from '../typedSite.ts'
import { halvedCandidates, halvingCandidates, showsFrom } from './halving.ts'

describe('what halving leaves', () => {
  const typed = typedSite(drawScenario(families[0], 0x10000000 + 100_002).site)
  const { readings, prepared } = typed
  const shows = (p: number, e: number) =>
    readings[p].squared[e] >= showsFrom && prepared.network.defectRate[e] > 0
  const crossed = (p: number) => [...prepared.network.defectRate.keys()].filter((e) => shows(p, e))
  // the farther of two readings from one point along a row: it crosses what the nearer one does not
  const far = readings.findIndex((_, p) => crossed(p).length >= 3)

  it('is what a failed reading shows and no passed one', () => {
    const { edges, followed } = halvingCandidates(typed, { fails: [far] })
    expect(followed === null || followed === far).toBe(true)
    for (const e of edges) {
      expect(shows(far, e)).toBe(true)
      expect(readings.some((_, p) => p !== far && shows(p, e))).toBe(false)
    }
  })

  it('is what all failed readings show together', () => {
    const all = [...readings.keys()]
    const { edges, followed } = halvingCandidates(typed, { fails: all })
    const shared = crossed(all.length - 1).filter((e) => all.every((p) => shows(p, e)))
    expect(followed).toBe(all.length - 1)
    expect(edges).toEqual(shared.length > 0 ? shared : crossed(all.length - 1))
  })

  it('is nothing where nothing failed', () => {
    expect(halvingCandidates(typed, { fails: [] })).toEqual({ edges: [], followed: null })
  })

  it('makes a belief that adds up to 1', () => {
    const { nothing, joint } = halvedCandidates(typed)
    expect(nothing + joint.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12)
  })
})
