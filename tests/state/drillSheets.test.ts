import { describe, expect, it } from 'vitest'
import type { DrillSheet } from '../../src/model/drill.ts'
import { DrillSheets } from '../../src/state/drillSheets.svelte.ts'

function memory(kept: Record<string, string> = {}) {
  return {
    kept,
    getItem: (key: string) => kept[key] ?? null,
    setItem: (key: string, value: string) => void (kept[key] = value),
  }
}

const sheet = (points: number): DrillSheet => ({
  at: '2026-05-12T09:00:00Z',
  site: 'Field',
  trainee: 'T',
  trainer: '',
  seed: 1,
  by: 'seed',
  kit: 'k',
  isFound: true,
  joint: 'j',
  readings: 1,
  minutes: 1,
  wrongCalls: 0,
  badTests: 0,
  asked: { suspects: 1, next: null },
  points,
})

describe('sheets of this device', () => {
  it('are there again with the names, and the oldest go first', () => {
    const store = memory()
    const sheets = new DrillSheets(store)
    sheets.trainee = 'Tester 1'
    for (let points = 0; points < 205; points++) sheets.add(sheet(points))
    const again = new DrillSheets(store)
    expect(again.trainee).toBe('Tester 1')
    expect(again.sheets).toHaveLength(200)
    expect(again.sheets[0].points).toBe(5)
    again.remove(again.sheets[0])
    expect(new DrillSheets(store).sheets[0].points).toBe(6)
  })

  it('survive a store that is blocked, damaged or holds something else', () => {
    const bad = { ...sheet(3), points: 'many' }
    const store = memory({
      'groundweave-drills': JSON.stringify({ sheets: [bad, null, sheet(4)], trainee: 5 }),
    })
    const sheets = new DrillSheets(store)
    expect(sheets.sheets.map(({ points }) => points)).toEqual([4])
    expect(sheets.trainee).toBe('')
    expect(new DrillSheets(memory({ 'groundweave-drills': '{' })).sheets).toEqual([])
    const blocked = new DrillSheets(null)
    blocked.add(sheet(1))
    expect(blocked.sheets).toHaveLength(1)
  })
})
