import type { EarlierVersion } from './storedSite.ts'

const hourMs = 3600 * 1000
/** For a day one version of each hour stays, for a month one of each day. */
const hourlyMs = 24 * hourMs
const keptMs = 30 * 24 * hourMs
/** Of one site; the newest version stays however long it is. */
const mostBytes = 48 * 1024 * 1024

/**
 * The versions that stay, the newest first: of those kept because time went on, the last of each hour of the last day
 * and the last of each day of the last month, by the clock of the device; those kept before something larger was done
 * stay for the month. Beyond the room for one site the oldest go first.
 */
export function thinVersions(versions: readonly EarlierVersion[], nowMs: number): readonly EarlierVersion[] {
  const newestFirst = [...versions].sort((a, b) => Date.parse(b.savedAt) - Date.parse(a.savedAt))
  const taken = new Set<string>()
  let bytes = 0
  return newestFirst.filter((version, at) => {
    const ageMs = nowMs - Date.parse(version.savedAt)
    if (ageMs > keptMs) return false
    if (version.why === 'time') {
      const span = spanOf(version, ageMs)
      if (taken.has(span)) return false
      taken.add(span)
    }
    bytes += version.bytes
    return at === 0 || bytes <= mostBytes
  })
}

/** The hour or the day that a version stands for: `2031-05-04T08` or `2031-05-04`. */
function spanOf({ savedAt }: EarlierVersion, ageMs: number): string {
  return savedAt.slice(0, ageMs > hourlyMs ? 10 : 13)
}

/** What can go where there is no room for what is new: all that was kept only because time went on. */
export function withoutTimed(versions: readonly EarlierVersion[]): readonly EarlierVersion[] {
  return versions.filter(({ why }) => why !== 'time')
}
