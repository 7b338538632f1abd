import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { JointRow, PartRow, ResistanceAnswer } from '../../src/model/answers.ts'
import { buildHeadless, field, roof, runHeadless } from './runHeadless.ts'

const folder = mkdtempSync(join(tmpdir(), 'groundweave-network-'))
const [parts, joints, matrix] = ['parts.csv', 'joints.csv', 'grounded.mtx'].map((name) => join(folder, name))

beforeAll(() => {
  buildHeadless()
  const { code, out, err } = runHeadless([
    'network',
    roof,
    '--parts',
    parts,
    '--joints',
    joints,
    '--matrix',
    matrix,
  ])
  if (code !== 0) throw new Error(err)
  expect(out).toMatch(
    /parts\.csv: \d+ parts.*\n.*joints\.csv: \d+ joints\n.*grounded\.mtx: matrix of \d+ rows\n/,
  )
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** A small reader of RFC 4180, by itself and not by the writer's rules. */
function readCsv(file: string): Record<string, string>[] {
  const text = readFileSync(file, 'utf8')
  const rows: string[][] = [[]]
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g)) {
    if (end === '' && plain === '' && rows.at(-1)!.length === 0) break
    rows.at(-1)!.push(quoted === undefined ? plain : quoted.replaceAll('""', '"'))
    if (end === '\r\n') rows.push([])
  }
  if (rows.at(-1)!.length === 0) rows.pop()
  const [titles, ...rest] = rows
  for (const row of rest) expect(row).toHaveLength(titles.length)
  return rest.map((row) => Object.fromEntries(titles.map((title, k) => [title, row[k]])))
}

describe('tables', () => {
  it('parts and joints are those that check counts; every end of a joint is a part', () => {
    const check = JSON.parse(runHeadless(['check', roof, '--json']).out) as { parts: number; joints: number }
    const partRows = readCsv(parts)
    const jointRows = readCsv(joints)
    expect(partRows).toHaveLength(check.parts + 1)
    expect(partRows.at(-1)).toMatchObject({ address: 'earth', kind: 'remoteEarth', xM: '', yM: '' })
    expect(jointRows).toHaveLength(check.joints)
    const known = new Set(partRows.map(({ address }) => address))
    for (const { from, to } of jointRows) expect(known.has(from) && known.has(to)).toBe(true)
    expect(new Set(jointRows.map(({ address }) => address)).size).toBe(jointRows.length)
  })

  it('leverages add up to parts less islands (Foster), and an open joint never reads less than a sound one', () => {
    const rows = readCsv(joints)
    const sum = rows.reduce((total, { leverage }) => total + Number(leverage), 0)
    const nodes = readCsv(parts)
    const islands = new Set(nodes.map(({ electricalIsland }) => electricalIsland)).size
    expect(sum).toBeCloseTo(nodes.length - islands, 8)
    for (const { kind, soundOhm, openOhm, metalBridge } of rows) {
      if (openOhm === 'infinite') expect(metalBridge === 'true' || kind === 'earthPath').toBe(true)
      else expect(Number(openOhm)).toBeGreaterThanOrEqual(Number(soundOhm))
    }
  })

  it('JSON holds the same rows as the tables', () => {
    const { code, out } = runHeadless(['network', roof, '--json'])
    expect(code).toBe(0)
    const document = JSON.parse(out) as {
      parts: PartRow[]
      joints: JointRow[]
      basis: object
      notes: object[]
    }
    expect(document.basis).toMatchObject({ recordLength: expect.any(Number) as number })
    expect(document.parts.map(({ address }) => address)).toEqual(readCsv(parts).map(({ address }) => address))
    expect(document.joints.map(({ medianOhm }) => medianOhm)).toEqual(
      readCsv(joints).map(({ medianOhm }) => Number(medianOhm)),
    )
    expect(document.parts.at(-1)).toMatchObject({ xM: null, yM: null })
  })

  it('standard output gets the joints where nothing else is asked for, or what is named -', () => {
    expect(runHeadless(['network', roof]).out).toBe(readFileSync(joints, 'utf8'))
    expect(runHeadless(['network', roof, '--parts', '-']).out).toBe(readFileSync(parts, 'utf8'))
  })

  it('nothing half written is left behind', () => {
    expect(readdirSync(folder).sort()).toEqual(['grounded.mtx', 'joints.csv', 'parts.csv'])
    const nowhere = join(folder, 'none', 'x.csv')
    const { code, err } = runHeadless(['network', roof, '--joints', nowhere])
    expect(code).toBe(2)
    expect(err).toMatch(/could not be written: there is no such file or folder/)
    expect(existsSync(nowhere)).toBe(false)
  })

  it('incidental contact can be left out', () => {
    const counted = runHeadless(['check', field, '--json'])
    const without = runHeadless(['check', field, '--json', '--without-incidental'])
    const jointsOf = (text: string) => (JSON.parse(text) as { joints: number }).joints
    expect(jointsOf(without.out)).toBeLessThanOrEqual(jointsOf(counted.out))
  })
})

interface Matrix {
  readonly comments: readonly string[]
  readonly dense: number[][]
}

function readMatrixMarket(file: string): Matrix {
  const lines = readFileSync(file, 'utf8').split('\n')
  expect(lines[0]).toBe('%%MatrixMarket matrix coordinate real symmetric')
  const comments = lines.filter((line) => line.startsWith('% '))
  const [size, ...entries] = lines.filter((line) => line !== '' && !line.startsWith('%'))
  const [rows, columns, count] = size.split(' ').map(Number)
  expect(columns).toBe(rows)
  expect(entries).toHaveLength(count)
  const dense = Array.from({ length: rows }, () => new Array<number>(rows).fill(0))
  for (const entry of entries) {
    const [i, j, value] = entry.split(' ').map(Number)
    expect(i).toBeGreaterThanOrEqual(j)
    expect(dense[i - 1][j - 1]).toBe(0)
    dense[i - 1][j - 1] = value
    dense[j - 1][i - 1] = value
  }
  return { comments, dense }
}

/** Gauss elimination with pivots, so that nothing of the program's own solver is relied on. */
function solve(matrixRows: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length
  const a = matrixRows.map((row, i) => [...row, right[i]])
  for (let k = 0; k < n; k++) {
    let best = k
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i][k]) > Math.abs(a[best][k])) best = i
    ;[a[k], a[best]] = [a[best], a[k]]
    for (let i = k + 1; i < n; i++) {
      const factor = a[i][k] / a[k][k]
      if (factor !== 0) for (let j = k; j <= n; j++) a[i][j] -= factor * a[k][j]
    }
  }
  const x = new Array<number>(n).fill(0)
  for (let k = n - 1; k >= 0; k--) {
    let sum = a[k][n]
    for (let j = k + 1; j < n; j++) sum -= a[k][j] * x[j]
    x[k] = sum / a[k][k]
  }
  return x
}

describe('matrix', () => {
  it('read back and solved by other means, it gives the resistances of the program', () => {
    const { comments, dense } = readMatrixMarket(matrix)
    const told = (name: string) => comments.find((line) => line.startsWith(`% ${name}: `))!.split(': ')[1]
    expect(told('site')).toBe((JSON.parse(readFileSync(roof, 'utf8')) as { name: string }).name)
    const order = readCsv(parts)
      .filter(
        ({ electricalIsland, address }) =>
          electricalIsland === told('electrical island') && address !== told('reference part'),
      )
      .map(({ address }) => address)
    expect(order).toHaveLength(dense.length)
    const place = (address: string) => order.indexOf(address)
    for (const [from, to] of [
      ['B1', 'R1/T2/L2.4'],
      ['R1/T1/F1.1', 'R3/T2/F1.1'],
      ['E1', 'R2/T1/L1.1'],
      ['B1', told('reference part')],
    ]) {
      const right = order.map((_, k) => (k === place(from) ? 1 : 0) - (k === place(to) ? 1 : 0))
      const x = solve(dense, right)
      const ohm = (place(from) < 0 ? 0 : x[place(from)]) - (place(to) < 0 ? 0 : x[place(to)])
      const { out } = runHeadless(['resistance', roof, from, to, '--json'])
      const answer = JSON.parse(out) as ResistanceAnswer
      expect(ohm / answer.resistanceOhm).toBeCloseTo(1, 8)
    }
  })

  it('its rows sum to the conductance to the reference: never negative, and some positive', () => {
    const sums = readMatrixMarket(matrix).dense.map((row) => row.reduce((sum, value) => sum + value, 0))
    const scale = Math.max(...sums.map(Math.abs))
    for (const sum of sums) expect(sum).toBeGreaterThan(-1e-9 * Math.max(1, scale))
    expect(scale).toBeGreaterThan(0)
  })
})
