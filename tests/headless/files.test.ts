import { mkdtempSync, readFileSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { limits } from '../../src/model/limits.ts'
import { buildHeadless, field, roof, runHeadless, runShell } from './runHeadless.ts'

const folder = mkdtempSync(join(tmpdir(), 'groundweave-files-'))
const inFolder = (name: string) => join(folder, name)
function write(name: string, content: string | Uint8Array): string {
  writeFileSync(inFolder(name), content)
  return inFolder(name)
}
const text = readFileSync(roof, 'utf8')
const changed = (change: (site: Record<string, unknown>) => void) => {
  const site = JSON.parse(text) as Record<string, unknown>
  change(site)
  return JSON.stringify(site)
}

beforeAll(buildHeadless, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('a good file', () => {
  it.each([roof, field])('%s is valid', (file) => {
    const { code, out, err } = runHeadless(['check', file])
    expect(err).toBe('')
    expect(out).toContain('Valid.')
    expect(code).toBe(0)
  })

  it('comes from standard input as well as from its place, a link or a pipe with a name', () => {
    const direct = runHeadless(['resistance', roof, 'B1', 'E1', '--json'])
    expect(direct.code).toBe(0)
    expect(runHeadless(['resistance', '-', 'B1', 'E1', '--json'], text)).toEqual(direct)
    symlinkSync(roof, inFolder('link.json'))
    expect(runHeadless(['resistance', inFolder('link.json'), 'B1', 'E1', '--json'])).toEqual(direct)
    const named = runShell(
      'mkfifo "$1" && { cat "$2" > "$1" & prog resistance "$1" B1 E1 --json; }',
      inFolder('pipe'),
      roof,
    )
    expect(named).toEqual(direct)
  })
})

describe('a bad file is told with its place, and never half read', () => {
  const bad: readonly (readonly [string, () => string, RegExp])[] = [
    ['missing', () => inFolder('nowhere.json'), /nowhere\.json: .*no such file/],
    ['a folder', () => folder, /it is a folder/],
    ['empty', () => write('empty.json', ''), /empty\.json: The file is empty/],
    ['not text', () => write('binary.json', Uint8Array.of(0xff, 0xfe, 0, 0x80)), /binary\.json: .*UTF-8/],
    ['not JSON', () => write('words.json', '{"format": nothing}'), /words\.json, line 1, column \d+: .*JSON/],
    ['cut off', () => write('cut.json', text.slice(0, 5000)), /cut\.json, line \d+.*cut off/],
    ['no site', () => write('other.json', '{"format": "other"}'), /no site file.*groundweave-site/],
    [
      'newer',
      () =>
        write(
          'newer.json',
          changed((site) => (site['version'] = 99)),
        ),
      /version 99.*newer program/,
    ],
    [
      'an unknown field',
      () =>
        write(
          'field.json',
          changed((site) => (site['colour'] = 1)),
        ),
      /no such field as “colour”/,
    ],
    [
      'a wrong value deep inside',
      () =>
        write(
          'deep.json',
          changed((site) => {
            const { rows } = site['drawing'] as { rows: Record<string, unknown>[] }
            rows[1]['bearingDeg'] = 'north'
          }),
        ),
      /deep\.json, drawing › rows › 2nd › bearingDeg: Expected a number; found "north"/,
    ],
    [
      'an address that names nothing',
      () =>
        write(
          'address.json',
          changed((site) => {
            const { conductors } = site['drawing'] as { conductors: { points: { landing: unknown }[] }[] }
            conductors[0].points[0].landing = { part: 'B99', kind: 'crimpLug' }
          }),
        ),
      /drawing › conductors › 1st .*no part “B99”/,
    ],
  ]

  it.each(bad)('%s', (_, make, told) => {
    const { code, out, err } = runHeadless(['locate', make()])
    expect(err).toMatch(told)
    expect(err).not.toMatch(/ {4}at |undefined|Internal error/)
    expect(out).toBe('')
    expect(code).toBe(2)
  })

  it('too large: refused by its size before it is read', () => {
    const file = write('large.json', '')
    truncateSync(file, limits.fileBytes + 5 * 1024 * 1024)
    const { code, err } = runHeadless(['check', file])
    expect(err).toMatch(/large\.json: The file is longer than the 64 MB that are read at most \(69 MB\)/)
    expect(code).toBe(2)
  })

  it('a pipe without end is cut off at the limit', () => {
    const { code, err } = runShell('cat /dev/zero | prog check -')
    expect(err).toMatch(/standard input: The file is longer than the 64 MB that are read at most\./)
    expect(code).toBe(2)
  })

  it('check answers that a file is not valid: exit 1, on standard output, also as JSON', () => {
    const file = write(
      'colour.json',
      changed((site) => (site['colour'] = 1)),
    )
    const plain = runHeadless(['check', file])
    expect(plain).toMatchObject({ code: 1, err: '' })
    expect(plain.out).toMatch(/Not valid: 1 problem\.\n.*“colour”/)
    const json = runHeadless(['check', file, '--json'])
    expect(json.code).toBe(1)
    const answer = JSON.parse(json.out) as {
      valid: boolean
      problems: { code: string; where: { file: string } }[]
    }
    expect(answer.valid).toBe(false)
    expect(answer.problems).toMatchObject([{ code: 'value.unknownKey', where: { file } }])
  })

  it('what a file says cannot command a terminal', () => {
    const file = write(
      'escape.json',
      changed((site) => (site['name'] = 'a\u001b[31mred\u0007')),
    )
    const { code, out } = runHeadless(['check', file])
    expect(code).toBe(0)
    expect(out).not.toContain('\u001b')
    expect(out).not.toContain('\u0007')
  })
})
