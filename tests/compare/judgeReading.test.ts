import { describe, expect, it } from 'vitest'
import { judgeReading, judgeReadings } from '../../src/compare/judgeReading.ts'
import { criterionFor } from '../../src/model/queries/criterionFor.ts'
import { present } from '../../src/base/assert.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import { criteriaCatalogue } from '../../src/model/criteriaCatalogue.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import type { Criterion } from '../../src/model/schema/planning.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { wholly } from '../../src/base/portion.ts'
import { predictPair } from '../../src/reading/pairPrediction.ts'
import { prepare, rowSite, uuid, withReadings, type Taken } from '../locate/rowSite.ts'

const criterion = (id: string, more: Partial<Criterion> = {}): Criterion => ({
  id,
  name: id,
  scope: 'anyPair',
  quantity: 'bondingPath',
  investigateAboveOhm: 0.1,
  rejectAboveOhm: null,
  addConductor: false,
  testCurrentA: null,
  source: 'made up for this test',
  edition: '',
  clause: '',
  againstPairs: false,
  ...more,
})

const eachScope = (['anyPair', 'pathToEarthBar', 'neighbours', 'sameTable'] as const).map((scope) =>
  criterion(scope, { scope }),
)

function siteWith(criteria: readonly Criterion[], taken: readonly Taken[] = []): Site {
  return withReadings(
    rowSite((drawing) => ({ ...drawing, criteria })),
    taken,
  )
}

function chosen(criteria: readonly Criterion[], from: string, to: string): string | null {
  const at = (text: string) => present(parsePartAddress(text), text)
  return criterionFor(siteWith(criteria).drawing, at(from), at(to))?.id ?? null
}

describe('the criterion of a pair', () => {
  it.each([
    ['R1/T2/F1.1', 'R1/T2/P1.1', 'sameTable'],
    ['R1/T2/F1.1', 'R1/T3/F1.1', 'neighbours'],
    ['R1/T3/F1.1', 'R1/T2/F1.1', 'neighbours'],
    ['R1/T2/F1.1', 'R1/T4/F1.1', 'anyPair'],
    ['R1/T2/F1.1', 'R2/T2/F1.1', 'anyPair'],
    ['R1/T2/F1.1', 'B1', 'pathToEarthBar'],
    ['B1', 'G1', 'pathToEarthBar'],
    // point 2 of the conductor is lugged on the bar, point 3 on a table
    ['C1.2', 'R1/T5/F1.1', 'pathToEarthBar'],
    ['C1.3', 'R1/T5/F1.1', 'anyPair'],
  ])('%s to %s: %s', (from, to, id) => {
    expect(chosen(eachScope, from, to)).toBe(id)
    expect(chosen(eachScope.toReversed(), from, to)).toBe(id)
  })

  it('within one table is that for neighbours where none is for a table', () => {
    const criteria = eachScope.filter(({ scope }) => scope !== 'sameTable')
    expect(chosen(criteria, 'R1/T2/F1.1', 'R1/T2/P1.1')).toBe('neighbours')
  })

  it('is the next wider one where the narrow ones have no level', () => {
    const bare = { investigateAboveOhm: null, rejectAboveOhm: null }
    const criteria = eachScope.map((c) => (c.scope === 'neighbours' ? { ...c, ...bare } : c))
    expect(chosen(criteria, 'R1/T2/F1.1', 'R1/T3/F1.1')).toBe('anyPair')
  })

  it('of several for one scope is the strictest, then the first', () => {
    const criteria = [
      criterion('lax', { investigateAboveOhm: 0.5 }),
      criterion('strict', { investigateAboveOhm: null, rejectAboveOhm: 0.2 }),
      criterion('asStrict', { investigateAboveOhm: 0.2 }),
    ]
    expect(chosen(criteria, 'R1/T1/F1.1', 'R2/T1/F1.1')).toBe('strict')
  })

  it('is never one for another quantity, nor any for remote earth', () => {
    const others = (['electrodeToEarth', 'typeTest'] as const).map((quantity) =>
      criterion(quantity, { quantity }),
    )
    expect(chosen(others, 'R1/T1/F1.1', 'R1/T2/F1.1')).toBeNull()
    expect(chosen(eachScope, 'B1', 'earth')).toBeNull()
  })

  it('follows the tables as they stand, not their ids', () => {
    const site = siteWith(eachScope)
    const runs = [
      { firstTable: 1, count: 2, type: 'small' },
      { firstTable: 7, count: 1, type: 'small' },
      { firstTable: 3, count: 4, type: 'small' },
    ]
    const rows = site.drawing.rows.map((row) => ({ ...row, runs, nextTable: 8 }))
    const drawing = { ...site.drawing, rows }
    const of = (from: string, to: string) =>
      criterionFor(drawing, parsePartAddress(from)!, parsePartAddress(to)!)?.id
    expect(of('R1/T2/F1.1', 'R1/T7/F1.1')).toBe('neighbours')
    expect(of('R1/T2/F1.1', 'R1/T3/F1.1')).toBe('anyPair')
  })
})

describe('the verdict', () => {
  const levels = criterion('both', { investigateAboveOhm: 0.1, rejectAboveOhm: 1 })
  const judged = (ohm: number | null, criteria: readonly Criterion[] = [levels]) => {
    const site = siteWith(criteria, [{ from: 'R1/T1/F1.1', to: 'R2/T1/F1.1', ohm }])
    return judgeReadings(prepare(site), site.record)
  }

  it.each([
    [0.1, 'within'],
    [0.1000001, 'investigate'],
    [1, 'investigate'],
    [1.0000001, 'reject'],
    [null, 'reject'],
  ])('%s ohm: %s', (ohm, verdict) => {
    expect(judged(ohm)).toEqual([
      {
        entry: uuid(100),
        criterion: 'both',
        investigateOhm: 0.1,
        rejectOhm: 1,
        conductorOhm: 0,
        otherQuantity: false,
        lowCurrent: null,
        verdict,
      },
    ])
  })

  it('over range exceeds what level there is, also where the range ends below it', () => {
    expect(judged(null, [criterion('high', { investigateAboveOhm: 5000 })])[0].verdict).toBe('investigate')
  })

  it('none where no criterion applies', () => {
    expect(judged(5, [])).toEqual([
      {
        entry: uuid(100),
        criterion: null,
        investigateOhm: null,
        rejectOhm: null,
        conductorOhm: 0,
        otherQuantity: false,
        lowCurrent: null,
        verdict: 'none',
      },
    ])
  })

  it('by another quantity only where someone chose it for pairs, and then says so', () => {
    const typeTest = criterion('typeTest', { quantity: 'typeTest', investigateAboveOhm: 0.1 })
    expect(judged(0.2, [typeTest])[0]).toMatchObject({ verdict: 'none', otherQuantity: false })
    expect(judged(0.2, [{ ...typeTest, againstPairs: true }])[0]).toMatchObject({
      criterion: 'typeTest',
      verdict: 'investigate',
      otherQuantity: true,
    })
    expect(judged(0.2, [{ ...levels, againstPairs: true }])[0].otherQuantity).toBe(false)
  })

  it('with the computed path added to both levels', () => {
    const added = { ...levels, addConductor: true }
    const site = siteWith([added], [{ from: 'R1/T6/F1.1', to: 'B1', ohm: 0.101 }])
    const prepared = prepare(site)
    const part = (text: string) => partIndexOf(prepared.network.index, parsePartAddress(text)!)
    const { resistanceOhm } = wholly(predictPair(prepared, part('R1/T6/F1.1'), part('B1')))
    expect(resistanceOhm).toBeGreaterThan(0.002)
    const [judgement] = judgeReadings(prepared, site.record)
    expect(judgement.conductorOhm).toBe(resistanceOhm)
    expect(judgement.investigateOhm).toBeCloseTo(0.1 + resistanceOhm, 12)
    expect(judgement.rejectOhm).toBeCloseTo(1 + resistanceOhm, 12)
    // above the criterion's own level, below it with the path added
    expect(judgement.verdict).toBe('within')
  })

  it('nothing is added where soil alone joins the two: a high reading stays high', () => {
    const site = withReadings(
      rowSite((drawing) => ({
        ...drawing,
        criteria: [{ ...levels, addConductor: true }],
        conductors: [],
      })),
      [{ from: 'R1/T1/F1.1', to: 'R2/T1/F1.1', ohm: 3 }],
    )
    const [judgement] = judgeReadings(prepare(site), site.record)
    expect(judgement).toMatchObject({ conductorOhm: 0, rejectOhm: 1, verdict: 'reject' })
  })
})

describe('which readings', () => {
  const site = siteWith(eachScope, [
    { from: 'R1/T1/F1.1', to: 'R1/T2/F1.1', ohm: 5 },
    { from: 'R1/T1/F1.1', to: 'R1/T3/F1.1', ohm: 5 },
  ])
  const prepared = prepare(site)
  const reading = site.record.find((entry): entry is EntryOf<'reading'> => entry.entry === 'reading')!

  it('only those between two parts of the drawing, by two or four wires', () => {
    const verdict = (change: Partial<EntryOf<'reading'>>) =>
      judgeReading(prepared, { ...reading, ...change }).verdict
    expect(verdict({})).toBe('investigate')
    expect(verdict({ method: 'fourWire' })).toBe('investigate')
    expect(verdict({ method: 'loopClamp', to: reading.from })).toBe('none')
    expect(verdict({ method: 'earthElectrode' })).toBe('none')
    expect(verdict({ to: reading.from })).toBe('none')
    expect(verdict({ to: { ...reading.to, part: 'R9/T1/F1.1' } })).toBe('none')
    expect(verdict({ to: { ...reading.to, part: 'nonsense' } })).toBe('none')
  })

  it('as corrected, and none that is withdrawn', () => {
    const common = { device: uuid(3), counter: 900, at: '2031-05-04T09:00:00Z', visit: reading.visit }
    const record = [
      ...site.record,
      {
        ...common,
        id: uuid(900),
        entry: 'correction' as const,
        of: uuid(100),
        result: { form: 'ohm' as const, ohm: 0.01 },
        from: null,
        to: null,
        reason: 'a slip',
      },
      {
        ...common,
        id: uuid(901),
        counter: 901,
        entry: 'withdrawal' as const,
        of: uuid(101),
        reason: 'wrong table',
      },
    ]
    expect(judgeReadings(prepared, record).map(({ verdict }) => verdict)).toEqual(['within', 'none'])
  })
})

describe('the test current that a criterion asks', () => {
  const asking = criterion('asks', { testCurrentA: 10 })
  const pair = { from: 'R1/T1/F1.1', to: 'R2/T1/F1.1' }
  const lowOf = (asked: Criterion, ohm: number, own: number | null = null) => {
    const site = siteWith([asked], [{ ...pair, ohm }])
    const record = site.record.map((entry) =>
      entry.entry === 'reading' ? { ...entry, testCurrentA: own } : entry,
    )
    return judgeReadings(prepare(site), record)[0].lowCurrent
  }
  const visit = siteWith([asking], [{ ...pair, ohm: 1 }]).record.find(({ entry }) => entry === 'visit')
  const kitA = visit?.entry === 'visit' ? visit.kits[0].testCurrentA : NaN

  it('is more than the instrument sends: said, whatever the verdict', () => {
    expect(kitA).toBeLessThan(10)
    expect(lowOf(asking, 0.01)).toEqual({ askedA: 10, usedA: kitA })
    expect(lowOf(asking, 5)).toEqual({ askedA: 10, usedA: kitA })
  })

  it('is that of the reading before that of the instrument', () => {
    expect(lowOf(asking, 0.01, 10)).toBeNull()
    expect(lowOf(asking, 0.01, 9.9)).toEqual({ askedA: 10, usedA: 9.9 })
  })

  it('is not missed where enough was used or none is asked', () => {
    expect(lowOf(criterion('asks', { testCurrentA: kitA }), 0.01)).toBeNull()
    expect(lowOf(criterion('none'), 0.01)).toBeNull()
  })

  it('is asked within the range of the source alone', () => {
    const { criterion: ranged } = criteriaCatalogue.find(
      ({ currentAskedWithinOhm }) => currentAskedWithinOhm,
    )!
    const withLevel = { ...ranged, investigateAboveOhm: 1 }
    expect(lowOf(withLevel, 0.19, 0.1)).toBeNull()
    expect(lowOf(withLevel, 0.2, 0.1)).toEqual({ askedA: 0.2, usedA: 0.1 })
    expect(lowOf(withLevel, 2, 0.1)).not.toBeNull()
    expect(lowOf(withLevel, 2.01, 0.1)).toBeNull()
  })
})
