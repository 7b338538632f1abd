import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { conditionsReport } from './conditionsReport.ts'
import { logScoreLess, sureOf } from './figures.ts'
import { betweenMarks } from './markdown.ts'
import { appendRow, readRows, type Row } from './results.ts'
import type { Score } from './scores/score.ts'

const score = (firstStated: number, first: boolean, logScore = 1): Score => ({
  logScore,
  brier: 0,
  first,
  firstThree: first,
  firstSeen: false,
  firstThreeSeen: false,
  firstLook: 0,
  firstGroupSize: 1,
  firstStated,
  nothing: 0,
  callsHealthy: false,
  setMass: 0.9,
  setCovers: 0,
  states: [],
})
const row = (seed: number, methods: Readonly<Record<string, Score>>, catalogueLnError = 0): Row => ({
  program: 'p',
  commit: 'c',
  family: 'rows',
  kit: 'A',
  seed,
  clampsPerFrame: 1,
  inSoil: false,
  contactFactor: 1,
  catalogueLnError,
  faults: 1,
  visible: 1,
  readings: 9,
  methods,
  ceilingError: null,
  seconds: 1,
})

describe('figures of the scenarios', () => {
  it('count a dig as right when any joint of the group is bad, and only where it was as good as certain', () => {
    const rows = [
      row(1, { engine: score(0.992, true) }),
      row(2, { engine: score(0.998, false) }),
      row(3, { engine: score(0.98, false) }),
    ]
    const digs = sureOf(rows, 'engine', 0.99, 'any')
    expect([digs.right.hits, digs.right.tries]).toEqual([1, 2])
    expect(digs.stated).toBeCloseTo(0.995, 12)
    expect(sureOf(rows, 'engine', 0.99, 'seen').right.hits).toBe(0)
  })

  it('compare two methods on what both were asked about', () => {
    const rows = [
      row(1, { engine: score(0, true, 1), prior: score(0, true, 3) }),
      row(2, { engine: score(0, true, 1), prior: score(0, true, 2) }),
      row(3, { engine: score(0, true, 50) }),
    ]
    expect(logScoreLess(rows, 'prior', 'engine').value).toBeCloseTo(1.5, 12)
  })

  it('part the scenarios in thirds by how far the catalogue is off, either way', () => {
    const off = [0.01, -0.5, 0.2, -0.02, 0.6, -0.19]
    const rows = off.map((ln, k) => row(k, { engine: score(0, true), gaussian: score(0, true) }, ln))
    const { conditions } = conditionsReport(rows, [])
    for (const [from, to] of [
      ['1.01', '1.02'],
      ['1.21', '1.22'],
      ['1.65', '1.82'],
    ]) {
      expect(conditions).toContain(`catalogue off by a factor of ${from} to ${to} | 2 |`)
    }
  })
})

describe('results', () => {
  const folder = mkdtempSync(join(tmpdir(), 'locating-'))
  afterAll(() => {
    rmSync(folder, { recursive: true })
  })

  it('are read back for one state of the program, the last of a seed, without a line cut short', () => {
    const file = join(folder, 'rows.jsonl')
    expect(readRows(file, 'p')).toEqual([])
    appendRow(file, { program: 'p', seed: 1, value: 1 })
    appendRow(file, { program: 'q', seed: 1, value: 2 })
    appendRow(file, { program: 'p', seed: 1, value: 3 })
    writeFileSync(file, '{"program":"p","se', { flag: 'a' })
    expect(readRows(file, 'p')).toEqual([{ program: 'p', seed: 1, value: 3 }])
  })

  it('go between their marks and nowhere else', () => {
    const text = 'a\n<!-- locating x -->\nold\n<!-- /locating x -->\nb'
    expect(betweenMarks(text, { x: 'new' })).toBe('a\n<!-- locating x -->\n\nnew\n\n<!-- /locating x -->\nb')
    expect(() => betweenMarks(text, { y: 'new' })).toThrow('no mark for y')
  })
})
