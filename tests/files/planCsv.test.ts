import Papa from 'papaparse'
import { expect, it } from 'vitest'
import { planCsv } from '../../src/files/planCsv.ts'
import { demoSite } from './report/reportOf.ts'

const { drawing } = demoSite('field')
const [plan] = drawing.plans

it('has a line for each pair, in the order of the plan, that a reader of CSV gives back', () => {
  const named = {
    ...plan,
    pairs: plan.pairs.map((pair, k) => (k === 1 ? { ...pair, step: '=4,2 "a"' } : pair)),
  }
  const [{ from, to }] = plan.pairs
  const known = { from, to, expectedOhm: 0.0123, sdOhm: 0, levelOhm: 0.5, shows: 0, alone: 0 }
  const text = planCsv(drawing, named, { pairs: [{ ...known, tooFarM: null, noAccess: [] }] })
  const { data, errors } = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true })
  expect(errors).toEqual([])
  expect(data.map((row) => [row.from, row.to])).toEqual(plan.pairs.map((pair) => [pair.from, pair.to]))
  expect(data.map((row) => Number(row.number))).toEqual(plan.pairs.map((_, k) => k + 1))
  expect(data[0]).toMatchObject({
    expected_ohm: '0.0123',
    level_ohm: '0.5',
    required: 'false',
    point: 'none',
  })
  expect(data[1]).toMatchObject({ expected_ohm: '', level_ohm: '', step: `'=4,2 "a"` })
})
