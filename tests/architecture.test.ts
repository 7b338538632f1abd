import { readdirSync, readFileSync } from 'node:fs'
import { join, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { architectureProblems, packagesOfFolder, ranks } from './architecture/layers.ts'

const root = fileURLToPath(new URL('..', import.meta.url))

function sourceFiles(): Map<string, string> {
  const src = join(root, 'src')
  const names = readdirSync(src, { recursive: true, encoding: 'utf8' })
  const code = names.filter((name) => /\.(ts|svelte)$/.test(name) && !name.endsWith('.d.ts')).sort()
  return new Map(code.map((name) => [name.split(sep).join('/'), readFileSync(join(src, name), 'utf8')]))
}

function problems(files: Record<string, string>): string[] {
  return architectureProblems(new Map(Object.entries(files)))
}

describe('the source tree', () => {
  const files = sourceFiles()

  it('is read', () => {
    expect(files.size).toBeGreaterThan(3)
    expect(files.get('base/assert.ts')).toContain('export function assert')
  })

  it('keeps to its layers', () => {
    expect(architectureProblems(files)).toEqual([])
  })

  it('holds only folders that have a rank', () => {
    const folders = readdirSync(join(root, 'src'), { withFileTypes: true }).filter((entry) =>
      entry.isDirectory(),
    )
    expect(folders.map(({ name }) => name).filter((name) => !(name in ranks))).toEqual([])
  })

  it('may import only packages that are shipped, not tools of development', () => {
    const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
      dependencies: Record<string, string>
    }
    const allowed = new Set(Object.values(packagesOfFolder).flat())
    expect([...allowed].filter((name) => name !== 'node:' && !(name in dependencies))).toEqual([])
  })
})

describe('every way of importing is seen', () => {
  const upward = 'locate/rank.ts (rank 5): imports engine/run.ts (rank 8)'
  const target = { 'engine/run.ts': 'export const run = 1' }

  it.each([
    ['a plain import', `import { run } from '../engine/run.ts'\nrun`],
    ['a type import', `import type { run } from '../engine/run.ts'\nexport type X = typeof run`],
    ['an import for its effect', `import '../engine/run.ts'`],
    ['an export of another file', `export { run } from '../engine/run.ts'\nexport const x = 1`],
    ['an export of all of another file', `export * from '../engine/run.ts'\nexport const x = 1`],
    ['a dynamic import', `export const x = () => import('../engine/run.ts')`],
    ['an import inside a type', `export type X = import('../engine/run.ts').X`],
    ['a URL beside the module', `export const x = new URL('../engine/run.ts', import.meta.url)`],
  ])('%s', (_, text) => {
    expect(problems({ ...target, 'locate/rank.ts': text })).toEqual([upward])
  })

  it('in both scripts and in the markup of a component', () => {
    const component = (text: string) =>
      problems({
        ...target,
        'app/App.svelte': '',
        'panels/P.svelte': text,
        'canvas/c.ts': 'export const c = 1',
      })
    const sideways = 'panels/P.svelte (rank 10): imports canvas/c.ts (rank 10)'
    const imported = `import { c } from '../canvas/c.ts'`
    expect(component(`<script lang="ts">${imported}; const x: number = c</script>{x}`)).toEqual([sideways])
    expect(component(`<script module lang="ts">${imported}; export const y = c</script>`)).toEqual([sideways])
    expect(component(`{#await import('../canvas/c.ts') then m}{m.c}{/await}`)).toEqual([sideways])
    expect(component(`<button onclick={() => import('../canvas/c.ts')}>x</button>`)).toEqual([sideways])
    expect(component(`<script lang="ts">import { run } from '../engine/run.ts'; run</script>`)).toEqual([])
  })

  it('but not in comments or strings', () => {
    const text = `// import '../engine/run.ts'\nexport const x = "import '../engine/run.ts'"`
    expect(problems({ ...target, 'locate/rank.ts': text })).toEqual([])
  })
})

describe('a breach is found', () => {
  it('import of an equal rank', () => {
    expect(
      problems({ 'walk/a.ts': `import '../reading/b.ts'`, 'reading/b.ts': 'export const b = 1' }),
    ).toEqual(['walk/a.ts (rank 4): imports reading/b.ts (rank 4)'])
  })

  it('folder without a rank, also at the top', () => {
    expect(problems({ 'misc/a.ts': 'export const a = 1', 'b.ts': 'export const b = 1' })).toEqual([
      'misc/a.ts: its folder has no rank',
      'b.ts: its folder has no rank',
    ])
  })

  it('import of a file that is not there, without its extension or outside src', () => {
    expect(
      problems({
        'base/a.ts': `import './gone.ts'\nimport './b'\nimport '../../tests/x.ts'`,
        'base/b.ts': 'export const b = 1',
      }),
    ).toEqual([
      'base/a.ts: imports ./gone.ts, which is no file',
      'base/a.ts: imports ./b, which is no file',
      'base/a.ts: imports ../../tests/x.ts from outside src',
    ])
  })

  it('import of something computed', () => {
    expect(problems({ 'base/a.ts': 'export const a = (name: string) => import(name)' })).toEqual([
      'base/a.ts: imports something computed',
    ])
  })

  it('barrel file, by name or by content', () => {
    expect(
      problems({
        'base/index.ts': 'export const a = 1',
        'base/all.ts': `export * from './b.ts'\nexport type { C } from './b.ts'`,
        'base/again.ts': `import { b } from './b.ts'\nexport { b }`,
        'base/b.ts': 'export const b = 1\nexport type C = 1',
      }),
    ).toEqual(['base/index.ts: barrel file', 'base/all.ts: barrel file', 'base/again.ts: barrel file'])
  })

  it('import cycle, also through types and of a file with itself', () => {
    const found = problems({
      'base/a.ts': `import { b } from './b.ts'\nexport const a = b`,
      'base/b.ts': `import type { C } from './c.ts'\nexport const b: C = 1`,
      'base/c.ts': `import { a } from './a.ts'\nexport type C = typeof a`,
      'base/d.ts': `import { d } from './d.ts'\nexport const e = d`,
    })
    expect(found).toEqual([
      'import cycle: base/a.ts → base/b.ts → base/c.ts → base/a.ts',
      'import cycle: base/d.ts → base/d.ts',
    ])
  })

  it('no cycle where two files import a third', () => {
    expect(
      problems({
        'base/a.ts': `import './b.ts'\nimport './c.ts'`,
        'base/b.ts': `import './c.ts'\nexport const b = 1`,
        'base/c.ts': 'export const c = 1',
      }),
    ).toEqual([])
  })

  it.each([
    ['model/a.ts', 'zod', true],
    ['files/a.ts', 'zod/mini', true],
    ['base/a.ts', 'zod', false],
    ['locate/a.ts', 'zod', false],
    ['text/a.ts', 'zod', false],
    ['state/a.svelte.ts', 'svelte/reactivity', true],
    ['engine/a.ts', 'svelte', false],
    ['canvas/a.ts', 'konva', true],
    ['panels/a.ts', 'konva', false],
    ['app/a.ts', 'konva', false],
    ['ui/a.ts', 'd3', true],
    ['state/a.ts', 'd3', false],
    ['headless/a.ts', 'd3', false],
    ['headless/a.ts', 'node:fs', true],
    ['files/a.ts', 'node:fs', false],
    ['app/a.ts', 'fs', false],
    ['model/a.ts', '@types/d3', false],
  ])('package: %s importing %s, allowed %s', (path, name, isAllowed) => {
    const found = problems({ [path]: `import * as x from '${name}'\nexport const y = x` })
    expect(found).toEqual(isAllowed ? [] : [`${path}: may not import the package ${name}`])
  })

  it('Svelte in a plain folder', () => {
    expect(problems({ 'text/A.svelte': '<p>a</p>', 'files/a.svelte.ts': 'export const a = 1' })).toEqual([
      'text/A.svelte: Svelte below rank 9',
      'files/a.svelte.ts: Svelte below rank 9',
    ])
  })

  it.each([
    ['Date.now()', 'Date.now'],
    ['new Date()', 'the date of now'],
    ['Date()', 'the date of now'],
    ['[Date]', 'the date of now'],
    ['Math.random()', 'Math.random'],
    [`Math['random']()`, 'Math itself'],
    ['[Math]', 'Math itself'],
    ['performance.now()', 'performance'],
    ['console.log(1)', 'console'],
    ['document.title', 'document'],
    ['window', 'window'],
    ['typeof window', 'window'],
    ['({ document })', 'document'],
    ['globalThis.document', 'globalThis'],
    ['setTimeout(() => 1)', 'setTimeout'],
    ['process.env', 'process'],
    ['crypto.randomUUID()', 'crypto'],
  ])('the surrounding world in a plain folder: %s', (expression, use) => {
    expect(problems({ 'files/a.ts': `export const a = () => ${expression}` })).toEqual([
      `files/a.ts: uses ${use} (line 1)`,
    ])
    expect(problems({ 'engine/a.ts': `export const a = () => ${expression}` })).toEqual([])
  })

  it('the surrounding world past a declaration of the same name elsewhere', () => {
    const text = [
      'export const a = (document: string) => document',
      'export const b = () => document',
      'export const c = () => { const window = 1; return window }',
    ].join('\n')
    expect(problems({ 'base/a.ts': text })).toEqual(['base/a.ts: uses document (line 2)'])
  })

  it('no surrounding world in names of our own, keys, types and honest uses', () => {
    const text = [
      'export interface Report { document: string; window: number; process(): void }',
      `export const a = (report: Report) => ({ document: report.document, window: report['window'] })`,
      'export const b = ({ window }: Report) => window + Math.max(1, 2) + Math.PI',
      'export const c = (timeMs: number) => new Date(timeMs).getTime() + Date.UTC(2026, 0)',
      'export type When = Date',
      'export class K { process() { return 1 } }',
      `export type { Elsewhere as Location } from './e.ts'`,
    ].join('\n')
    expect(problems({ 'files/a.ts': text, 'files/e.ts': 'export interface Elsewhere { a: 1 }' })).toEqual([])
  })

  it('an imported name hides one of the world', () => {
    const text = `import { fetch } from './b.ts'\nexport const a = fetch(1)`
    expect(problems({ 'files/a.ts': text, 'files/b.ts': 'export const fetch = (x: number) => x' })).toEqual(
      [],
    )
  })

  it('module state and default export in a plain folder', () => {
    const text = 'let count = 0\nexport const next = () => ++count\nexport default next'
    expect(problems({ 'plan/a.ts': text })).toEqual([
      'plan/a.ts: keeps module state in count',
      'plan/a.ts: default export',
    ])
    expect(problems({ 'engine/a.ts': text })).toEqual([])
  })
})
