import { describe, expect, it } from 'vitest'
import type { Entry } from '../../src/model/schema/record.ts'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import { readKeptEntry, writeKeptEntry } from '../../src/panels/keptEntry.ts'
import { exampleSite } from '../model/exampleSite.ts'

const site = exampleSite()
const reading = site.record.find((entry) => entry.entry === 'reading')!
const pair = { from: reading.from.part, to: reading.to.part }
const typed = new PairDraft()
typed.type('30', 'mΩ')
const kept = writeKeptEntry(site, pair, typed.snapshot())
const later = (...entries: Entry[]) => ({ ...site, record: [...site.record, ...entries] })

describe('the form of a pair that is kept', () => {
  it('comes back with its ends and what was typed, though the same pair was read before', () => {
    expect(readKeptEntry(kept, site)).toEqual({ ...pair, draft: typed.snapshot() })
  })

  it('comes back too where the record has grown by something else since', () => {
    const other = { ...reading, from: { ...reading.from, part: 'earth' } }
    expect(readKeptEntry(kept, later(other))).not.toBeNull()
  })

  it('is not offered again where a reading of the pair was entered since', () => {
    expect(readKeptEntry(kept, later(reading))).toBeNull()
  })

  it.each([null, '', 'no JSON', '[]', '{"from":3}'])('is nothing where %j stands', (text) => {
    expect(readKeptEntry(text, site)).toBeNull()
  })
})
