import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Papa from 'papaparse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { buildHeadless, field, roof, runHeadless } from './runHeadless.ts'

const folder = mkdtempSync(join(tmpdir(), 'groundweave-readings-'))
const inFolder = (name: string) => join(folder, name)
function write(name: string, content: string): string {
  writeFileSync(inFolder(name), content)
  return inFolder(name)
}

interface SiteFile {
  name: string
  record: {
    entry: string
    id: string
    visit?: string
    result?: { form: string; ohm: number }
    note?: string
  }[]
}
const siteIn = (file: string) => JSON.parse(readFileSync(file, 'utf8')) as SiteFile
const readingsIn = ({ record }: SiteFile) => record.filter(({ entry }) => entry === 'reading')
const changed = (name: string, of: string, change: (site: SiteFile) => void) => {
  const site = siteIn(of)
  change(site)
  return write(name, JSON.stringify(site))
}
const linesOf = (csv: string) =>
  Papa.parse<Record<string, string>>(csv, { header: true, skipEmptyLines: true }).data

beforeAll(buildHeadless, 600_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('readings', () => {
  it('are every reading of the record with its ohms, as CSV and as JSON alike', () => {
    const { code, out, err } = runHeadless(['readings', roof])
    expect([code, err]).toEqual([0, ''])
    const lines = linesOf(out)
    const known = readingsIn(siteIn(roof))
    expect(lines.map((line) => Number(line['read (ohm)']))).toEqual(known.map(({ result }) => result!.ohm))
    const json = JSON.parse(runHeadless(['readings', roof, '--json']).out) as Record<string, unknown>[]
    expect(json).toHaveLength(lines.length)
    for (const [k, one] of json.entries()) {
      expect(Object.keys(one)).toEqual(Object.keys(lines[k]))
      expect(one['read (ohm)']).toBe(Number(lines[k]['read (ohm)']))
      expect(one['look']).toBe(lines[k]['look'])
    }
    expect(new Set(lines.map((line) => line['look']))).toContain('investigate')
  })

  it('go into a file, never into the site itself', () => {
    const out = inFolder('list.csv')
    expect(runHeadless(['readings', roof, '--out', out]).code).toBe(0)
    expect(readFileSync(out, 'utf8')).toBe(runHeadless(['readings', roof]).out)
    const copy = changed('copy.json', roof, () => undefined)
    const before = readFileSync(copy, 'utf8')
    const over = runHeadless(['readings', copy, '--out', copy])
    expect(over.code).toBe(2)
    expect(over.err).toMatch(/written over/)
    expect(readFileSync(copy, 'utf8')).toBe(before)
  })

  it('of a visit that is not there are refused, and none at all are nothing to answer', () => {
    const { code, err } = runHeadless(['readings', roof, '--visit', '7'])
    expect(code).toBe(2)
    expect(err).toMatch(/no visit 7; the record has 1 visit/)
    const bare = changed('bare.json', roof, (site) => {
      site.record = []
    })
    const none = runHeadless(['readings', bare])
    expect(none.code).toBe(1)
    expect(none.out).toMatch(/^number,time,/)
  })
})

const good =
  'from,to,read (mohm),time\nB1,R1/T2/F1.6,13.1,2026-06-04T08:00:00Z\nB1,R1/T1/F1.1,12.2,2026-06-04T08:01:00Z\n'

describe('import-readings', () => {
  it('previews and writes nothing of its own accord', () => {
    const list = write('good.csv', good)
    const { code, out, err } = runHeadless(['import-readings', roof, list])
    expect([code, err]).toEqual([0, ''])
    expect(out).toMatch(/2 readings of 2 lines can be recorded/)
    expect(out).toMatch(/13\.1 mΩ/)
  })

  it('writes a site that is valid and has exactly the readings of the list more', () => {
    const out = inFolder('more.json')
    const run = runHeadless(['import-readings', roof, write('good.csv', good), '--write', out])
    expect([run.code, run.err]).toEqual([0, ''])
    expect(runHeadless(['check', out]).code).toBe(0)
    const [before, after] = [readingsIn(siteIn(roof)), readingsIn(siteIn(out))]
    expect(after.slice(0, before.length)).toEqual(before)
    expect(after.slice(before.length).map(({ result }) => result!.ohm)).toEqual([0.0131, 0.0122])
    expect(after.at(-1)!.note).toMatch(/good\.csv/)
    const again = runHeadless([
      'import-readings',
      out,
      inFolder('good.csv'),
      '--write',
      inFolder('twice.json'),
    ])
    expect(again.code).toBe(1)
    expect(again.out).toMatch(/2 lines are there already/)
    expect(existsSync(inFolder('twice.json'))).toBe(false)
  })

  it('takes all or nothing: every line that is rejected is told with its number and why', () => {
    const list = write(
      'bad.csv',
      `${good}B1,R9/T1/F1.1,12,2026-06-04T08:02:00Z\nB1,R1/T1/F1.2,twelve,2026-06-04T08:03:00Z\nB1,B1,12,2026-06-04T08:04:00Z\n`,
    )
    const out = inFolder('never.json')
    const { code, out: said } = runHeadless(['import-readings', roof, list, '--write', out])
    expect(code).toBe(1)
    expect(existsSync(out)).toBe(false)
    for (const line of [4, 5, 6]) expect(said).toMatch(new RegExp(`line ${line}\\b`))
    expect(said).toMatch(/3 lines are rejected: nothing is written/)
    expect(said).toMatch(/R9\/T1\/F1\.1/)
    const json = JSON.parse(runHeadless(['import-readings', roof, list, '--json']).out) as {
      rejectedLines: { line: number; reasons: string[] }[]
    }
    expect(json.rejectedLines.map(({ line }) => line)).toEqual([4, 5, 6])
    for (const { reasons } of json.rejectedLines) expect(reasons.length).toBeGreaterThan(0)
  })

  it('guesses no unit, and takes the one that is said', () => {
    const list = write('bare.csv', 'from,to,read\nB1,R1/T2/F1.6,13.1\n')
    const without = runHeadless(['import-readings', roof, list])
    expect(without.code).toBe(1)
    expect(without.out).toMatch(/line 2.*unit/s)
    const json = JSON.parse(runHeadless(['import-readings', roof, list, '--unit', 'mohm', '--json']).out) as {
      lines: { result: unknown }[]
    }
    expect(json.lines.map(({ result }) => result)).toEqual([{ form: 'ohm', ohm: 0.0131 }])
    const slip = runHeadless(['import-readings', roof, list, '--unit', 'volt'])
    expect(slip.code).toBe(2)
    expect(slip.err).toMatch(/--unit takes ohm or mohm or uohm/)
  })

  it('takes back what readings wrote: into a copy without them, with the same pairs and ohms', () => {
    const list = inFolder('field.csv')
    runHeadless(['readings', field, '--out', list])
    const empty = changed('empty-field.json', field, (site) => {
      site.record = site.record.filter(({ entry }) => entry === 'visit')
    })
    const out = inFolder('filled.json')
    const run = runHeadless(['import-readings', empty, list, '--visit', '1', '--write', out])
    expect([run.code, run.err]).toEqual([0, ''])
    expect(readingsIn(siteIn(out)).map(({ result }) => result)).toEqual(
      readingsIn(siteIn(field)).map(({ result }) => result),
    )
  })

  it('never writes over what it reads, and takes one thing from standard input', () => {
    const list = write('good.csv', good)
    const copy = changed('copy.json', roof, () => undefined)
    for (const target of [copy, list]) {
      const before = readFileSync(target, 'utf8')
      const { code, err } = runHeadless(['import-readings', copy, list, '--write', target])
      expect(code).toBe(2)
      expect(err).toMatch(/written over/)
      expect(readFileSync(target, 'utf8')).toBe(before)
    }
    expect(runHeadless(['import-readings', '-', '-'], '').code).toBe(2)
    expect(runHeadless(['import-readings', roof, '-'], good).code).toBe(0)
    const binary = runHeadless(['import-readings', roof, '-'], 'a\0b')
    expect(binary.code).toBe(2)
    expect(binary.err).toMatch(/standard input/)
  })
})

describe('report', () => {
  it('is one page without scripts or requests, with every reading and its plots', () => {
    const { code, out, err } = runHeadless(['report', roof])
    expect([code, err]).toEqual([0, ''])
    expect(out).toMatch(/^<!doctype html>/)
    expect(out).not.toMatch(/<script|\son\w+=|<img|<link|src=|href=/i)
    expect(out.match(/<svg /g)!.length).toBeGreaterThan(2)
    expect(out).toContain('35.7 mΩ')
    expect(out).not.toMatch(/\bsafe\b|\bpass(ed|es)?\b/i)
    expect(out.trimEnd().endsWith('</html>')).toBe(true)
  })

  it('shows hostile names and notes as text', () => {
    const hostile = '</style><script>alert(1)</script><img src=x onerror=alert(1)>'
    const site = changed('hostile.json', roof, (all) => {
      all.name = hostile
      for (const entry of all.record) if (entry.entry === 'reading') entry.note = hostile
    })
    const { code, out } = runHeadless(['report', site])
    expect(code).toBe(0)
    expect(out).not.toMatch(/<script|<img/i)
    expect(out).toContain('&lt;script&gt;')
  })
})
