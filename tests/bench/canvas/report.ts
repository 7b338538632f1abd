import type { DragRuns } from './dragRuns.ts'
import type { FieldRuns } from './fieldRuns.ts'
import type { FrameRun } from './frameRuns.ts'
import { journeys } from './journeys.ts'
import type { OpeningTimes } from './page/page.ts'
import type { StageName } from './stages.ts'
import { median, quantile, spreadText } from './statistics.ts'
import type { HitTimes } from './timeHits.ts'

export interface Scene {
  readonly key: string
  readonly modules: number
  readonly opening: OpeningTimes
  /** Runs by journey and stage, joined by a tab. */
  readonly found: ReadonlyMap<string, readonly FrameRun[]>
  readonly hits: readonly HitTimes[]
}

export const stageWords: Readonly<Record<StageName, string>> = {
  empty: 'empty canvas',
  plain: 'plain Canvas 2D',
  base: 'base layer alone',
  'bare map': 'map without readings',
  everything: 'everything',
}

export function sceneWords({ key, modules }: Pick<Scene, 'key' | 'modules'>): string {
  return `${modules.toLocaleString('en')} modules${key === 'turned' ? ', rows turned by 11°' : ''}`
}

const longestOf = (tasksMs: readonly number[]) =>
  tasksMs.length === 0 ? 'none' : `${tasksMs.length}, longest ${Math.max(...tasksMs).toFixed(0)} ms`

export function frameTable(scene: Scene, stages: readonly StageName[]): string {
  const lines = journeys.flatMap((journey) => {
    const runsOf = (stage: StageName) => scene.found.get(`${journey.name}\t${stage}`) ?? []
    const peer = median(runsOf('plain').map(({ cpuMs }) => cpuMs))
    return stages.flatMap((stage) => {
      const runs = runsOf(stage)
      if (runs.length === 0) return []
      const cpu = runs.map(({ cpuMs }) => cpuMs)
      const ratio = Number.isNaN(peer) ? '–' : (median(cpu) / peer).toFixed(2)
      const cells = [
        journey.name,
        stageWords[stage],
        spreadText(cpu),
        ratio,
        spreadText(runs.map(({ p95Ms }) => p95Ms)),
        spreadText(
          runs.map(({ lost }) => lost),
          0,
        ),
        longestOf(runs.flatMap(({ longTasksMs }) => longTasksMs)),
      ]
      return [`| ${cells.join(' | ')} |`]
    })
  })
  return [
    `### ${sceneWords(scene)}`,
    '',
    '| movement | what is drawn | main thread, ms per frame | ÷ plain | frame interval, 95 %, ms | frames lost | tasks over 50 ms |',
    '|---|---|---|---|---|---|---|',
    ...lines,
  ].join('\n')
}

export function openingTable({ opening }: Scene): string {
  return [
    '| opening | |',
    '|---|---|',
    `| index of the site, ms | ${opening.indexMs.toFixed(1)} |`,
    `| geometry, ms | ${opening.geometryMs.toFixed(1)} |`,
    `| from mounting the map to its second frame, ms | ${opening.shownMs.toFixed(0)} |`,
    `| tasks over 50 ms while it is mounted | ${longestOf(opening.longTasksMs)} |`,
  ].join('\n')
}

export function hitTable({ hits }: Scene): string {
  const of = (values: readonly number[]) =>
    `${quantile(values, 0.95).toFixed(2)} / ${Math.max(...values).toFixed(2)}`
  return [
    '| pixels per metre | what lies under the pointer, ms, 95 % / most | keyboard to the neighbour, ms, 95 % / most |',
    '|---|---|---|',
    ...hits.map(({ pxPerM, hitMs, stepMs }) => `| ${pxPerM.toFixed(2)} | ${of(hitMs)} | ${of(stepMs)} |`),
  ].join('\n')
}

export function fieldTables({ firstViewMs, openingTasksMs, movements }: FieldRuns): string {
  return [
    '### The demo field in the built program',
    '',
    `First view of the map after the page was asked for: ${spreadText(firstViewMs, 0)} ms. Tasks over 50 ms until it rests: ` +
      `${longestOf(openingTasksMs)}.`,
    '',
    '| movement | main thread, ms per frame | frame interval, 95 %, ms | frames lost | tasks over 50 ms |',
    '|---|---|---|---|---|',
    ...movements.map(({ name, runs }) => {
      const cells = [
        name,
        spreadText(runs.map(({ cpuMs }) => cpuMs)),
        spreadText(runs.map(({ p95Ms }) => p95Ms)),
        spreadText(
          runs.map(({ lost }) => lost),
          0,
        ),
        longestOf(runs.flatMap(({ longTasksMs }) => longTasksMs)),
      ]
      return `| ${cells.join(' | ')} |`
    }),
  ].join('\n')
}

export function dragTable({ drags, dropMs, dropTasksMs }: DragRuns): string {
  return [
    '### A row of 100 tables dragged, in the built program with the tracker demo',
    '',
    '| | |',
    '|---|---|',
    `| main thread, ms per frame of the drag | ${spreadText(drags.map(({ cpuMs }) => cpuMs))} |`,
    `| frame interval, 95 %, ms | ${spreadText(drags.map(({ p95Ms }) => p95Ms))} |`,
    `| frames lost | ${spreadText(
      drags.map(({ lost }) => lost),
      0,
    )} |`,
    `| tasks over 50 ms while dragging | ${longestOf(drags.flatMap(({ longTasksMs }) => longTasksMs))} |`,
    `| from letting go to the picture, ms | ${spreadText(dropMs, 0)} |`,
    `| tasks over 50 ms in the two seconds after | ${longestOf(dropTasksMs)} |`,
  ].join('\n')
}
