import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { fieldStory } from '../generator/demoSites.ts'
import { locateIn } from '../generator/locateIn.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field.json')
if (!opened.ok) throw new Error(JSON.stringify(opened.error))
const site = opened.value

/** The demo field with one more reading of 30 mΩ straight across its open jumper. */
function withReadingAcross(at: string): Site {
  const last = site.record.findLast((entry): entry is EntryOf<'reading'> => entry.entry === 'reading')!
  const clip = { spot: 'face', surface: 'bare' } as const
  const reading: EntryOf<'reading'> = {
    ...last,
    id: '9d3f3a0e-52a5-4f0d-8f0a-5c0c6f2f7a11',
    counter: last.counter + 100,
    at,
    from: { part: 'R4/T6/L1.10', ...clip },
    to: { part: 'R4/T7/F1.1', ...clip },
    result: { form: 'ohm', ohm: 0.03 },
    repeats: null,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
  }
  return { ...site, record: [...site.record, reading] }
}

describe('leads that were nulled long ago', () => {
  it('a reading months after nulling still speaks: a lead warms no further than the day does', () => {
    const answer = locateIn(withReadingAcross('2026-11-25T04:10:00.000Z'))
    const group = answer.groups.find(({ joints }) => joints[0].joint === fieldStory.openJumper)!
    const across = group.evidence.find(({ entry }) => entry.startsWith('9d3f3a0e'))!
    expect(across.bits).toBeLessThan(-4)
    expect(group.probability).toBeLessThan(0.8)
  })

  it('it says less than one taken at once, for what drifted in between', () => {
    const bitsAt = (at: string) =>
      locateIn(withReadingAcross(at))
        .groups.find(({ joints }) => joints[0].joint === fieldStory.openJumper)!
        .evidence.find(({ entry }) => entry.startsWith('9d3f3a0e'))!.bits
    expect(bitsAt('2026-11-25T04:10:00.000Z')).toBeGreaterThan(bitsAt('2026-05-12T08:45:00Z'))
  })
})
