import { describe, expect, it } from 'vitest'
import { assert } from '../../src/base/assert.ts'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import type { SampleAnswer, SampleInput } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { openNameBook } from '../../src/text/places.ts'
import { describeSample, sampleNote } from '../../src/text/sampleText.ts'
import { rowSite } from '../locate/rowSite.ts'

const site = rowSite()
const clamps: SampleInput = {
  countIncidental: true,
  asBuilt: false,
  lot: { of: 'kind', kind: 'frameClamp' },
  mostBadShare: 0.2,
  confidence: 0.95,
  failuresAllowed: 1,
  perTable: 4,
  correlation: 0.1,
  seed: 20260606,
  failed: [],
}

function answer(input: SampleInput, of: Site = site): SampleAnswer {
  const answered = finish(run('sample', input, of, emptySiteCache()))
  assert(answered.ok, JSON.stringify(answered))
  return answered.value
}

function problemOf(input: SampleInput): string {
  const answered = finish(run('sample', input, site, emptySiteCache()))
  return answered.ok
    ? 'none'
    : answered.error.map(({ code, where }) => `${code} ${where.path?.join() ?? ''}`).join('; ')
}

describe('a sample of joints of a kind', () => {
  it('is drawn between the two ends of joints of that kind, and worth what was asked', () => {
    const { lot, drawn, confidence, tables } = answer(clamps)
    // two tables' worth: twelve tables of two rows of four frames, each on two members with clamps in every gap
    expect(lot.tables).toBe(12)
    expect(lot.items % 12).toBe(0)
    expect(drawn.length).toBe(4 * tables)
    expect(confidence).toBeGreaterThanOrEqual(0.95)
    for (const { from, to, joint } of drawn) {
      expect(joint).toMatch(/^R[12]\/T[1-6]\/F/)
      expect(
        [from, to].some((end) => end.includes('/F')) && [from, to].some((end) => end.includes('/L')),
      ).toBe(true)
    }
  })

  it('leaves out and counts what no clip reaches', () => {
    const closed = rowSite((drawing) => ({
      ...drawing,
      access: drawing.access.map((each) => (each.part === 'post' ? { ...each, reachable: false } : each)),
    }))
    const brackets = { ...clamps, lot: { of: 'kind', kind: 'bracket' } } as const
    const [open, left] = [answer(brackets), answer(brackets, closed)]
    expect(left.lot.noAccess).toBeGreaterThan(0)
    expect(left.lot.items + left.lot.noAccess).toBe(open.lot.items)
    expect(left.drawn.some(({ from, to }) => from.includes('/P') || to.includes('/P'))).toBe(false)
  })

  it('goes on from failures to their tables and, beyond what may fail, to all', () => {
    const first = answer(clamps)
    const [one, other] = [first.drawn[0], first.drawn.at(-1)!]
    const accepted = answer({ ...clamps, failed: [{ from: one.to, to: one.from }] }).result
    expect(accepted).toMatchObject({ failed: 1, isAccepted: true, rest: [] })
    expect(accepted.tables.length).toBe(first.lot.items / 12 - 4)
    expect(accepted.lessThanShare).toBeLessThanOrEqual(0.2 + 1 / first.lot.items)
    const refused = answer({ ...clamps, failed: [one, other] }).result
    expect(refused.isAccepted).toBe(false)
    expect(refused.lessThanShare).toBeGreaterThan(0.2)
    const due = refused.tables.length + refused.rows.length + refused.rest.length
    expect(due).toBe(first.lot.items - first.drawn.length)
  })
})

describe('what was asked wrongly', () => {
  it.each([
    [{ mostBadShare: 0 }, 'value.outOfRange mostBadShare'],
    [{ confidence: 1 }, 'value.outOfRange confidence'],
    [{ seed: 0.5, correlation: -1 }, 'value.outOfRange correlation; value.outOfRange seed'],
    [{ mostBadShare: NaN }, 'value.outOfRange mostBadShare'],
    [{ lot: { of: 'kind', kind: 'noSuch' } as const }, 'reference.unknownName '],
    [{ lot: { of: 'plan', plan: 'noSuch' } as const }, 'reference.unknownName '],
    [{ lot: { of: 'kind', kind: 'rodClamp' } as const }, 'value.outOfRange lot'],
    [{ failed: [{ from: 'B1', to: 'G1' }] }, 'reference.unknownName '],
  ])('%j', (change, said) => {
    expect(problemOf({ ...clamps, ...change })).toBe(said)
  })
})

describe('in words', () => {
  const book = openNameBook(site.drawing)

  it('the sentence for the plan says lot, size, seed, and what follows a failure', () => {
    const note = sampleNote(answer(clamps), book)
    for (const said of [
      'seed 20260606',
      '4 on each of',
      'at most 1 failure',
      'correlation 0.1',
      'frame clamp',
    ])
      expect(note).toContain(said)
    expect(note.length).toBeLessThan(1000)
  })

  it('says so where all of the lot is drawn', () => {
    const whole = answer({ ...clamps, mostBadShare: 0.02 })
    expect(whole.isWhole).toBe(true)
    expect(sampleNote(whole, book)).toMatch(/^All of 192 joints/)
  })

  it('never says more than the numbers do', () => {
    const said = describeSample(answer(clamps), book)
      .slice(0, 2)
      .flatMap(({ lines }) => lines.map(({ text }) => text))
      .join(' ')
    expect(said).toMatch(/only (< 1|[0-9]+) % sure/)
    expect(said).not.toMatch(/safe/i)
  })
})
