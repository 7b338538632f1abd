import { describe, expect, it } from 'vitest'
import { emptySheet, testSheet, type TestSheet } from '../../../src/files/report/testSheet.ts'
import { defaultKits } from '../../../src/model/kits.ts'
import { setUpsOfPlan } from '../../../src/model/queries/planSetUps.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { demoSite } from './reportOf.ts'

const { drawing } = demoSite('field')
const [plan] = drawing.plans

describe('set-ups on a sheet', () => {
  it('have a heading with the first clip, and pairs are numbered through as on the map', () => {
    const { groups, size } = testSheet(drawing, plan)
    const setUps = setUpsOfPlan(plan.pairs)
    expect(groups).toHaveLength(setUps.length)
    groups.forEach(({ heading, rows }, k) => {
      expect(heading).toContain(`Set-up ${k + 1}: `)
      expect(heading).toContain(`(${setUps[k].at})`)
      expect(rows.map(({ number }) => Number(number))[0]).toBe(setUps[k].first + 1)
    })
    expect(size).toEqual([`${plan.pairs.length} pairs from ${setUps.length} set-ups.`])
  })

  it('have none where the first clip moves at every pair', () => {
    const pairs = plan.pairs.filter(({ from }, k, all) => all.findIndex((pair) => pair.from === from) === k)
    expect(testSheet(drawing, { ...plan, pairs }).groups.map(({ heading }) => heading)).toEqual([null])
  })

  it('say what a sound array reads and with what it is planned, where that is known', () => {
    const [{ from, to }] = plan.pairs
    const pair = { from, to, expectedOhm: 0.0123, sdOhm: 0.001, levelOhm: null, shows: 1, alone: 1 }
    const coverage = {
      pairs: [{ ...pair, tooFarM: null, noAccess: [] }],
      with: { kit: defaultKits[1], lead: null, reachM: 47 },
    }
    const { groups, size } = testSheet(drawing, plan, coverage)
    expect(groups[0].rows[0].expected).toMatch(/^12 mΩ/)
    expect(groups.at(-1)!.rows.at(-1)!.expected).toBe('')
    expect(size.join(' ')).toMatch(/Planned for: Four-wire bond tester.*reaches 47 m/)
  })
})

describe('a test sheet of a plan', () => {
  const sheet = testSheet(drawing, plan)
  const rowsOf = ({ groups }: TestSheet) => groups.flatMap(({ rows }) => rows)
  const sheetRows = rowsOf(sheet)

  it('has every pair in the order of the plan, by name and address', () => {
    expect(sheetRows.map(({ number }) => number)).toEqual(plan.pairs.map((_, k) => String(k + 1)))
    plan.pairs.forEach(({ from, to }, k) => {
      expect(sheetRows[k].from).toContain(`(${from})`)
      expect(sheetRows[k].to).toContain(`(${to})`)
    })
  })

  it('names the level of each pair by a letter, and its source once below', () => {
    expect(sheetRows[0].level).toBe('a: 500 mΩ + wire')
    expect(sheet.sources).toHaveLength(2)
    expect(sheet.sources[0]).toMatch(/^a: Path to the earth bar .*Common practice/)
    const used = new Set(sheetRows.flatMap(({ level }) => (level === '' ? [] : [level[0]])))
    expect([...used].sort()).toEqual(sheet.sources.map((source) => source[0]))
  })

  it('marks hold and witness points and the steps of a contract', () => {
    const [one, other, ...rest] = plan.pairs
    const marked: Drawing = {
      ...drawing,
      plans: [
        {
          ...plan,
          pairs: [{ ...one, point: 'hold', step: '4.2' }, { ...other, point: 'witness' }, ...rest],
        },
      ],
    }
    const markedSheet = testSheet(marked, marked.plans[0])
    const { hasPoints } = markedSheet
    expect(
      rowsOf(markedSheet)
        .slice(0, 3)
        .map(({ point, step }) => [point, step]),
    ).toEqual([
      ['H', '4.2'],
      ['W', ''],
      ['', ''],
    ])
    expect([hasPoints, sheet.hasPoints]).toEqual([true, false])
  })
})

it('a sheet of free pairs has numbered empty rows', () => {
  const { groups, sources } = emptySheet(20)
  const [{ rows }] = groups
  expect(rows.map(({ number }) => number).slice(-2)).toEqual(['19', '20'])
  expect(rows.every(({ from, to, level }) => from + to + level === '')).toBe(true)
  expect(sources).toEqual([])
})
