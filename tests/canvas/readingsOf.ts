import { randomStream } from '../../src/base/random.ts'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import type { ReadingMark } from '../../src/state/mapMarks.ts'
import type { LineLook } from '../../src/state/readingLook.ts'

/** Readings between parts of the rows, drawn from a seed, each look in turn. */
export function readingsOf(index: SiteIndex, count: number, looks: readonly LineLook[]): ReadingMark[] {
  const random = randomStream(41)
  const part = () => Math.floor(random.uniform() * index.enclosureStart)
  return Array.from({ length: count }, (_, i) => ({
    entry: `e${i}`,
    from: part(),
    to: part(),
    look: looks[i % looks.length],
    label: '1 Ω',
    isPicked: false,
  }))
}
