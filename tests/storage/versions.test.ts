import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { localInstant } from '../../src/storage/storageEnvironment.ts'
import type { EarlierVersion, WhyKept } from '../../src/storage/storedSite.ts'
import { thinVersions, withoutTimed } from '../../src/storage/versions.ts'

const hourMs = 3600 * 1000
const dayMs = 24 * hourMs
const nowMs = Date.UTC(2031, 4, 30, 12, 30)

function version(agoMs: number, why: WhyKept = 'time', bytes = 1000): EarlierVersion {
  const savedAt = localInstant(nowMs - agoMs, 0)
  return { key: `${why} ${agoMs}`, generation: 1, savedAt, bytes, sha256: '', why }
}
const agoOf = (versions: readonly EarlierVersion[]) =>
  versions.map(({ savedAt }) => Math.round((nowMs - Date.parse(savedAt)) / 60_000) / 60)

describe('earlier versions', () => {
  it('are the last of each hour for a day and the last of each day for a month', () => {
    const everyTenMinutes = Array.from({ length: 6 * 24 * 40 }, (_, k) => version(k * 600_000))
    const ago = agoOf(thinVersions(everyTenMinutes, nowMs))
    // 12:30 now, 11:50, 10:50 … 12:50 of the day before; then 11:50 and 23:50 of each day before that
    expect(ago.slice(0, 3)).toEqual([0, 40 / 60, 100 / 60])
    expect(ago.filter((hours) => hours <= 24)).toHaveLength(25)
    const daily = ago.filter((hours) => hours > 24)
    expect(daily[1] - daily[0]).toBeLessThanOrEqual(24)
    expect(daily.slice(2).every((hours, k) => Math.abs(hours - daily[k + 1] - 24) < 1e-9)).toBe(true)
    expect(ago.at(-1)).toBeLessThanOrEqual(30 * 24)
    expect(ago.length).toBeGreaterThan(50)
  })

  it('that were kept on purpose stay for the month, however close together', () => {
    const named = [1, 2, 3].map((minutes) => version(minutes * 60_000, 'merge'))
    expect(thinVersions(named, nowMs)).toHaveLength(3)
    expect(thinVersions([version(31 * dayMs, 'merge')], nowMs)).toEqual([])
  })

  it('go the oldest first beyond the room for one site, and the newest stays whatever its length', () => {
    const large = [1, 2, 3].map((hours) => version(hours * hourMs, 'import', 20 * 1024 * 1024))
    expect(agoOf(thinVersions(large, nowMs))).toEqual([1, 2])
    expect(thinVersions([version(0, 'time', 60 * 1024 * 1024)], nowMs)).toHaveLength(1)
  })

  it('that were kept as time went on can go for what is new, and no others', () => {
    expect(withoutTimed([version(1), version(2, 'merge'), version(3)]).map(({ why }) => why)).toEqual([
      'merge',
    ])
  })

  it('thinned again at the same time are the same, and none is made up; a clock set back costs none', () => {
    const ages = fc.array(fc.tuple(fc.integer({ min: -2 * dayMs, max: 40 * dayMs }), fc.boolean()), {
      maxLength: 80,
    })
    fc.assert(
      fc.property(ages, (list) => {
        const versions = list.map(([ago, isTimed]) => version(ago, isTimed ? 'time' : 'merge'))
        const thinned = thinVersions(versions, nowMs)
        expect(thinVersions(thinned, nowMs)).toEqual(thinned)
        expect(thinned.every((one) => versions.includes(one))).toBe(true)
        const young = versions.filter(
          ({ why, savedAt }) => why === 'merge' && nowMs - Date.parse(savedAt) < 30 * dayMs,
        )
        expect(thinned).toEqual(expect.arrayContaining(young))
      }),
      { seed: 20312, numRuns: 200 },
    )
  })
})
