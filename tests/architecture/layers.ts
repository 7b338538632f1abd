import { posix } from 'node:path'
import { globalUses } from './globalUses.ts'
import { readSource, unreadable, type Source } from './sourceFile.ts'

/** A file imports lower ranks or its own folder; equal ranks never import each other. */
export const ranks: Readonly<Record<string, number>> = {
  base: 0,
  model: 1,
  layout: 2,
  network: 3,
  reading: 4,
  walk: 4,
  compare: 5,
  locate: 5,
  plan: 5,
  faultcurrent: 5,
  drill: 5,
  text: 6,
  tools: 6,
  files: 7,
  engine: 8,
  storage: 8,
  state: 9,
  ui: 9,
  canvas: 10,
  panels: 10,
  headless: 10,
  app: 11,
}

/** Up to this rank everything is plain computation. */
const lastPlainRank = 7
const firstSvelteRank = 9

/** The packages that the files of a folder may import; a folder that is not named may import none. */
export const packagesOfFolder: Readonly<Record<string, readonly string[]>> = {
  model: ['zod'],
  plan: ['yalps'],
  files: ['zod', 'papaparse'],
  engine: ['zod'],
  storage: ['zod'],
  state: ['svelte'],
  ui: ['svelte', 'd3'],
  canvas: ['svelte', 'konva', 'd3'],
  panels: ['svelte', 'd3'],
  headless: ['node:'],
  app: ['svelte', 'd3'],
}

/** All breaches of the layer rules in a set of files, given as path below src/ → text; empty when sound. */
export function architectureProblems(files: ReadonlyMap<string, string>): string[] {
  const sources = [...files].map(([path, text]) => readSource(path, text))
  const paths = new Set(files.keys())
  return [
    ...sources.flatMap((source) => [...placeProblems(source), ...importProblems(source, paths)]),
    ...plainnessProblems(sources),
    ...cycleProblems(sources, paths),
  ]
}

function folderOf(path: string): string {
  return path.includes('/') ? path.slice(0, path.indexOf('/')) : ''
}

function rankOf(path: string): number | undefined {
  return ranks[folderOf(path)]
}

function placeProblems({ path, isBarrel }: Source): string[] {
  const found: string[] = []
  if (rankOf(path) === undefined) found.push(`${path}: its folder has no rank`)
  if (/(^|\/)index(\.svelte)?\.ts$/.test(path) || isBarrel) found.push(`${path}: barrel file`)
  if (/\.svelte(\.ts)?$/.test(path) && (rankOf(path) ?? 0) < firstSvelteRank)
    found.push(`${path}: Svelte below rank ${firstSvelteRank}`)
  return found
}

function importProblems({ path, imports }: Source, paths: ReadonlySet<string>): string[] {
  return imports.flatMap((target) => {
    if (target === unreadable) return [`${path}: imports something computed`]
    if (!target.startsWith('.')) return packageProblems(path, target)
    const reached = reachedPath(path, target)
    if (reached.startsWith('../')) return [`${path}: imports ${target} from outside src`]
    if (!paths.has(reached))
      return isAsset(path, reached) ? [] : [`${path}: imports ${target}, which is no file`]
    return rankProblems(path, reached)
  })
}

function reachedPath(path: string, target: string): string {
  return posix.normalize(posix.join(posix.dirname(path), target.replace(/\?.*$/, '')))
}

// Style sheets and pictures beside the component that shows them.
function isAsset(path: string, reached: string): boolean {
  return (
    /\.(css|svg|png|json)$/.test(reached) && folderOf(path) === folderOf(reached) && (rankOf(path) ?? 0) > 8
  )
}

function rankProblems(path: string, reached: string): string[] {
  const own = rankOf(path)
  const other = rankOf(reached)
  if (own === undefined || other === undefined || folderOf(path) === folderOf(reached)) return []
  if (other < own) return []
  return [`${path} (rank ${own}): imports ${reached} (rank ${other})`]
}

function packageProblems(path: string, target: string): string[] {
  const name = target.startsWith('node:') ? 'node:' : packageName(target)
  const allowed = packagesOfFolder[folderOf(path)] ?? []
  return allowed.includes(name) ? [] : [`${path}: may not import the package ${target}`]
}

function packageName(target: string): string {
  return target
    .split('/')
    .slice(0, target.startsWith('@') ? 2 : 1)
    .join('/')
}

function plainnessProblems(sources: readonly Source[]): string[] {
  const plain = sources.filter(({ path }) => (rankOf(path) ?? Infinity) <= lastPlainRank)
  const uses = globalUses(plain.flatMap(({ scripts }) => scripts))
  return plain.flatMap(({ path, scripts, state, hasDefaultExport }) => [
    ...scripts.flatMap((script) => uses.get(script.fileName) ?? []).map((use) => `${path}: uses ${use}`),
    ...state.map((name) => `${path}: keeps module state in ${name}`),
    ...(hasDefaultExport ? [`${path}: default export`] : []),
  ])
}

// Depth first; a path that comes back to a file it is still inside of is a cycle.
function cycleProblems(sources: readonly Source[], paths: ReadonlySet<string>): string[] {
  const edges = new Map(
    sources.map(({ path, imports }) => [
      path,
      imports
        .filter((target) => target.startsWith('.'))
        .map((target) => reachedPath(path, target))
        .filter((reached) => paths.has(reached)),
    ]),
  )
  const done = new Set<string>()
  const trail: string[] = []
  const found: string[] = []
  const visit = (path: string): void => {
    const at = trail.indexOf(path)
    if (at >= 0) found.push(`import cycle: ${[...trail.slice(at), path].join(' → ')}`)
    if (at >= 0 || done.has(path)) return
    trail.push(path)
    for (const next of edges.get(path) ?? []) visit(next)
    trail.pop()
    done.add(path)
  }
  for (const path of edges.keys()) visit(path)
  return found
}
