import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isExpired, keptUntilMs, nextRow, textsOf } from '../../src/storage/generations.ts'
import { summaryOf, type Copy, type SiteRow } from '../../src/storage/storedSite.ts'
import { plainSite } from './storedSites.ts'

const summary = { ...summaryOf(plainSite), recoveredFrom: null }
const copy = (n: number): Copy => ({
  key: `key ${n}`,
  generation: n,
  savedAt: `2031-05-04T08:${String(n % 60).padStart(2, '0')}:00+00:00`,
  bytes: 100 + n,
  sha256: '',
})
const keys = (copies: readonly Copy[]) => copies.map(({ generation }) => generation)

/** Saves copies 1 … n; `damaged` are found damaged right after they were saved. */
function savedRow(n: number, damaged: readonly number[]): { row: SiteRow; kept: Set<string> } {
  const found = new Set<string>()
  const kept = new Set<string>()
  let row: SiteRow | undefined
  for (let k = 1; k <= n; k++) {
    const next = nextRow(row, summary, copy(k), found)
    kept.add(copy(k).key)
    for (const key of next.dropped) expect(kept.delete(key)).toBe(true)
    row = next.row
    if (damaged.includes(k)) found.add(copy(k).key)
  }
  return { row: row!, kept }
}

describe('copies after a save', () => {
  it('keeps the newest two', () => {
    const { row } = savedRow(5, [])
    expect(keys(row.copies)).toEqual([5, 4])
    expect(row).toMatchObject({ generation: 5, savedAt: copy(5).savedAt, bytes: 105, name: 'North field' })
  })

  it('keeps the sound one that was opened instead of a damaged one, and sets that aside', () => {
    const { row } = savedRow(6, [5])
    expect(keys(row.copies)).toEqual([6, 4])
    expect(keys(row.setAside)).toEqual([5])
  })

  it('texts are dropped exactly when nothing refers to them, whatever is damaged', () => {
    const cases = fc.tuple(fc.integer({ min: 1, max: 30 }), fc.array(fc.integer({ min: 1, max: 30 })))
    fc.assert(
      fc.property(cases, ([n, damaged]) => {
        const { row, kept } = savedRow(n, damaged)
        expect([...kept].sort()).toEqual([...textsOf(row)].sort())
        // The last two that are sound, the newest among them even if nobody has looked at it yet.
        const sound = Array.from({ length: n }, (_, k) => n - k).filter(
          (k) => k === n || !damaged.includes(k),
        )
        expect(keys(row.copies)).toEqual(sound.slice(0, 2))
        expect(row.setAside.length).toBeLessThanOrEqual(3)
      }),
      { seed: 20311, numRuns: 300 },
    )
  })
})

describe('the bin', () => {
  it('keeps for 30 days to the millisecond', () => {
    const binned = { key: 'k', binnedAtMs: Date.UTC(2031, 4, 4), site: savedRow(1, []).row }
    expect(keptUntilMs(binned)).toBe(Date.UTC(2031, 5, 3))
    expect(isExpired(binned, Date.UTC(2031, 5, 3) - 1)).toBe(false)
    expect(isExpired(binned, Date.UTC(2031, 5, 3))).toBe(true)
  })
})
