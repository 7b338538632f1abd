import { createHash } from 'node:crypto'
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Score } from './scores/score.ts'

/** What came of one scenario; a line of the results. */
export interface Row {
  /** Of the program that was tested: rows of another state of it are not counted. */
  readonly program: string
  readonly family: string
  readonly kit: string
  readonly seed: number
  readonly clampsPerFrame: number
  readonly inSoil: boolean
  /** By what poor contacts were more frequent than assumed, and by how much the catalogue was off, as ln. */
  readonly contactFactor: number
  readonly catalogueLnError: number
  readonly faults: number
  readonly visible: number
  readonly readings: number
  readonly methods: Readonly<Record<string, Score>>
  /** Standard error of the ceiling's log score from its sampling; null where it was not computed. */
  readonly ceilingError: number | null
  readonly seconds: number
  readonly commit: string
}

const programFolders = ['base', 'model', 'layout', 'network', 'reading', 'walk', 'locate'].map(
  (name) => `src/${name}`,
)
const benchFolders = [
  'tests/generator',
  ...['generator', 'methods', 'scores', 'sequential', 'large'].map((name) => `tests/bench/locating/${name}`),
]

/** Digest of the sources of the program under test and of its assumptions, and of what it is tested by. */
export function programDigest(root: string): string {
  const hash = createHash('sha256')
  for (const folder of [...programFolders, ...benchFolders]) {
    const names = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).sort()
    for (const name of names) {
      if (!name.endsWith('.ts') || name.endsWith('.test.ts')) continue
      hash.update(name).update(readFileSync(join(root, folder, name)))
    }
  }
  return hash.digest('hex').slice(0, 16)
}

/** All rows of a state of the program, the last one of a seed where there are several; a line cut short is left out. */
export function readRows<T extends { readonly seed: number; readonly program: string }>(
  file: string,
  program: string,
): T[] {
  if (!existsSync(file)) return []
  const rows = new Map<number, T>()
  for (const line of readFileSync(file, 'utf8').split('\n')) {
    try {
      if (line !== '') {
        const row = JSON.parse(line) as T
        if (row.program === program) rows.set(row.seed, row)
      }
    } catch {
      continue
    }
  }
  return [...rows.values()]
}

/** In one write at the end of the file, so that several processes may do so at once. */
export function appendRow(file: string, row: object): void {
  mkdirSync(dirname(file), { recursive: true })
  appendFileSync(file, `${JSON.stringify(row)}\n`)
}
