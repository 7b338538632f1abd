import { describe, expect, it } from 'vitest'
import { emptySheet, testSheet } from '../../../src/files/report/testSheet.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { demoSite } from './reportOf.ts'

const { drawing } = demoSite('field')
const [plan] = drawing.plans

describe('a test sheet of a plan', () => {
  const sheet = testSheet(drawing, plan)

  it('has every pair in the order of the plan, by name and address', () => {
    expect(sheet.rows.map(({ number }) => number)).toEqual(plan.pairs.map(({ id }) => String(id)))
    plan.pairs.forEach(({ from, to }, k) => {
      expect(sheet.rows[k].from).toContain(`(${from})`)
      expect(sheet.rows[k].to).toContain(`(${to})`)
    })
  })

  it('names the level of each pair by a letter, and its source once below', () => {
    expect(sheet.rows[0].level).toBe('a: 500 mΩ + wire')
    expect(sheet.sources).toHaveLength(2)
    expect(sheet.sources[0]).toMatch(/^a: Path to the earth bar .*Common practice/)
    const used = new Set(sheet.rows.flatMap(({ level }) => (level === '' ? [] : [level[0]])))
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
    const { rows, hasPoints } = testSheet(marked, marked.plans[0])
    expect(rows.slice(0, 3).map(({ point, step }) => [point, step])).toEqual([
      ['H', '4.2'],
      ['W', ''],
      ['', ''],
    ])
    expect([hasPoints, sheet.hasPoints]).toEqual([true, false])
  })
})

it('a sheet of free pairs has numbered empty rows', () => {
  const { rows, sources } = emptySheet(20)
  expect(rows.map(({ number }) => number).slice(-2)).toEqual(['19', '20'])
  expect(rows.every(({ from, to, level }) => from + to + level === '')).toBe(true)
  expect(sources).toEqual([])
})
