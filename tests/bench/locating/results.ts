import { createHash } from 'node:crypto'
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Score } from './scores/score.ts'

/** What came of one scenario; a line of the results. */
export interface Row {
  /** Of the program that was tested: rows of another state of it are not counted. */
  readonly program: string
  readonly family: string
  readonly seed: number
  readonly clampsPerFrame: number
  readonly inSoil: boolean
  readonly faults: number
  readonly visible: number
  readonly readings: number
  readonly methods: Readonly<Record<string, Score>>
  /** Standard error of the ceiling's log score from its sampling; null where it was not computed. */
  readonly ceilingError: number | null
  readonly seconds: number
  readonly commit: string
}

/** Digest of the sources of the program under test and of its assumptions. */
export function programDigest(root: string): string {
  const hash = createHash('sha256')
  for (const folder of ['src/base', 'src/model', 'src/layout', 'src/network', 'src/reading', 'src/locate']) {
    const names = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).sort()
    for (const name of names) {
      if (name.endsWith('.ts')) hash.update(name).update(readFileSync(join(root, folder, name)))
    }
  }
  return hash.digest('hex').slice(0, 16)
}

/** All rows of a file, the last one of a seed where there are several; a line cut short by a stop is left out. */
export function readRows(file: string): Row[] {
  if (!existsSync(file)) return []
  const rows = new Map<number, Row>()
  for (const line of readFileSync(file, 'utf8').split('\n')) {
    try {
      if (line !== '') {
        const row = JSON.parse(line) as Row
        rows.set(row.seed, row)
      }
    } catch {
      continue
    }
  }
  return [...rows.values()]
}

export function appendRow(file: string, row: Row): void {
  mkdirSync(dirname(file), { recursive: true })
  appendFileSync(file, `${JSON.stringify(row)}\n`)
}
