import { describe, expect, it } from 'vitest'
import { toSettle } from '../../../src/model/record/signChecklist.ts'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { exampleSite, uuid } from '../exampleSite.ts'
import { Writer } from './writer.ts'

const base = exampleSite()
const example = base.record.find((entry): entry is EntryOf<'visit'> => entry.entry === 'visit')!
const [kit] = example.kits

function siteWith(calibrationDue: string | null, w: Writer, more: readonly Entry[] = []): Site {
  const kits = [{ ...kit, id: 'meter', calibrationDue }]
  const visit = { ...example, id: w.visit, at: '2026-05-04T07:30:00Z', kits }
  const pair = { from: 'R1/T1/F1.1', to: 'R1/T1/F1.2', required: true, step: '' }
  const pairs = (['hold', 'none', 'witness'] as const).map((point, k) => ({ ...pair, id: k + 1, point }))
  const plans = [{ id: 'handover', name: 'Handover', note: '', pairs, nextPair: 4 }]
  return { ...base, drawing: { ...base.drawing, plans }, record: [visit, ...w.record, ...more] }
}

const whats = (site: Site, visit: string) => toSettle(site, visit).map(({ what }) => what)

describe('what is outstanding before signing', () => {
  it('is a closing check of the leads until they are read after the last reading', () => {
    const w = new Writer(1)
    const reading = w.reading('R1/T1/F1.1', 'R1/T1/F1.2', 0.02)
    expect(whats(siteWith('2027-01-01', w), w.visit)).toContain('leadCheck')
    const check: EntryOf<'leadCheck'> = {
      ...{ id: uuid(5), device: uuid(5), counter: 1, at: '2026-05-04T12:00:00Z', visit: w.visit },
      ...{ entry: 'leadCheck', kit: 'meter', lead: 'lead-50m', result: { form: 'ohm', ohm: 0 }, note: '' },
    }
    expect(whats(siteWith('2027-01-01', w, [check]), w.visit)).not.toContain('leadCheck')
    const before = { ...check, at: new Date(Date.parse(reading.at) - 1000).toISOString() }
    expect(whats(siteWith('2027-01-01', w, [before]), w.visit)).toContain('leadCheck')
  })

  it('is a calibration that was due before the visit, or that nobody noted', () => {
    const w = new Writer(1)
    w.reading('R1/T1/F1.1', 'R1/T1/F1.2', 0.02)
    const calibration = (due: string | null) =>
      toSettle(siteWith(due, w), w.visit).filter(({ what }) => what === 'calibration')
    expect(calibration('2026-05-04')).toEqual([])
    expect(calibration('2026-05-03')).toEqual([{ what: 'calibration', kit: 'meter', due: '2026-05-03' }])
    expect(calibration(null)).toEqual([{ what: 'calibration', kit: 'meter', due: null }])
  })

  it('is every hold and witness point without a signature, and a coating left open', () => {
    const w = new Writer(1)
    const points = () =>
      toSettle(siteWith('2027-01-01', w), w.visit).flatMap((one) =>
        one.what === 'point' ? [`${one.kind} ${one.point.planPair}`] : [],
      )
    expect(points()).toEqual(['hold 1', 'witness 3'])
    const what = { drawing: base.drawing.revision, drawingRevision: '', entries: [] }
    w.signature({ ...what, plan: 'handover', planPair: 1 }, '0'.repeat(64))
    expect(points()).toEqual(['witness 3'])
    w.repair('R1/T1/F1.1-F1.2', 'cleaned', 'stillOpen')
    expect(whats(siteWith('2027-01-01', w), w.visit)).toContain('openWork')
  })
})
