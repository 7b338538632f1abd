import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { fromV1 } from '../../src/files/migrations/fromV1.ts'
import { openSite } from '../../src/files/openSite.ts'
import { exampleSite } from '../model/exampleSite.ts'

const bytes = readFileSync(new URL('../fixtures/v1/everySection.json', import.meta.url))

describe('a site of version 1', () => {
  it('opens with what it said, and with what it did not ask left open', () => {
    const opened = openSite(bytes, 'everySection.json')
    if (!opened.ok) throw new Error(JSON.stringify(opened.error))
    const { drawing, record } = opened.value
    expect(drawing.facts).toMatchObject({ drawingRevision: '', mostVolts: 10 })
    const of = (sort: string) => record.find(({ entry }) => entry === sort)
    expect(of('visit')).toMatchObject({ inverter: 'unknown', isolators: 'unknown', lockOut: '' })
    expect(of('volts')).toMatchObject({ directV: 0.2, toEarth: null })
    expect(of('reading')).toMatchObject({ trying: null, spikesM: null })
    expect(of('look')).toMatchObject({ findings: ['partMissing'] })
    expect(of('repair')).toMatchObject({ coating: 'notTouched', torqueSetNm: null })
    expect(of('signature')).toMatchObject({ drawing: drawing.revision, drawingRevision: '', plan: null })
    expect(drawing.plans[0].pairs[0]).toMatchObject({ step: '', point: 'none' })
    // every entry is there, in its place
    const before = JSON.parse(bytes.toString()) as { record: { id: string }[] }
    expect(record.map(({ id }) => id)).toEqual(before.record.map(({ id }) => id))
  })

  it('that is damaged goes through unharmed, for the schema to refuse', () => {
    for (const damaged of [
      {},
      { drawing: null, record: 3 },
      { drawing: [], record: [null, 4, {}, { entry: 7 }, { entry: 'visit' }] },
      { drawing: { facts: 1, criteria: 'x', plans: [{ pairs: [null] }] }, record: [{ entry: 'look' }] },
      { record: [{ entry: 'constructor' }, { entry: 'toString' }] },
    ]) {
      expect(() => fromV1(damaged)).not.toThrow()
      const file = { format: 'groundweave-site', version: 1, id: exampleSite().id, name: 'x', ...damaged }
      const opened = openSite(new TextEncoder().encode(JSON.stringify(file)), 'x.json')
      expect(opened.ok).toBe(false)
    }
  })
})
