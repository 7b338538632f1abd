import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

const folders = ['base', 'model', 'layout', 'network', 'reading', 'walk', 'plan', 'locate'].map(
  (name) => `src/${name}`,
)
const benchFolders = ['tests/generator', 'tests/bench/plan']

/** Digest of the sources of the program under test, and of what it is tested by. */
export function planDigest(root: string): string {
  const hash = createHash('sha256')
  for (const folder of [...folders, ...benchFolders]) {
    const names = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).sort()
    for (const name of names) {
      if (!name.endsWith('.ts') || /(Report|main|\.test)\.ts$/.test(name)) continue
      hash.update(name).update(readFileSync(join(root, folder, name)))
    }
  }
  return hash.digest('hex').slice(0, 16)
}

/** The lines of one state of the program, the last one of a key where there are several; one cut short is left out. */
export function readLines<T extends { readonly program: string }>(
  file: string,
  program: string,
  keyOf: (line: T) => string,
): readonly T[] {
  if (!existsSync(file)) return []
  const lines = new Map<string, T>()
  for (const text of readFileSync(file, 'utf8').split('\n')) {
    try {
      if (text === '') continue
      const line = JSON.parse(text) as T
      if (line.program === program) lines.set(keyOf(line), line)
    } catch {
      continue
    }
  }
  return [...lines.values()]
}
