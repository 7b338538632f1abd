import { readFileSync } from 'node:fs'
import { present } from '../../../src/base/assert.ts'
import { run } from '../../../src/engine/run.ts'
import { emptySiteCache, type SiteCache } from '../../../src/engine/siteCache.ts'
import { openSite } from '../../../src/files/openSite.ts'
import type { LocateAnswer } from '../../../src/model/answers.ts'
import type { Site } from '../../../src/model/schema/site.ts'

export interface Stage {
  readonly stage: string
  ms: number
  /** Longest piece of work between two pauses. */
  longestMs: number
}

export interface Timed {
  readonly site: string
  readonly joints: number
  readonly readings: number
  readonly firstMs: number
  readonly stages: readonly Stage[]
  /** Each further reading in turn. */
  readonly furtherMs: readonly number[]
  /** Processor time of the first ranking and of the median further one, all threads of the process. */
  readonly firstCpuMs: number
  readonly furtherCpuMs: number
  readonly furtherStages: readonly Stage[]
  readonly longestMs: number
  readonly answerBytes: number
  readonly peakMb: number
  readonly afterMb: number
  readonly answer: LocateAnswer
}

export const median = (numbers: readonly number[]) =>
  numbers.toSorted((a, b) => a - b)[numbers.length >> 1] ?? 0

const megabytes = (bytes: number) => Math.round(bytes / 2 ** 20)

/** One ranking, timed stage by stage; a step counts for the stage that it ends in. */
function ask(site: Site, cache: SiteCache) {
  const stages: Stage[] = []
  const startMs = performance.now()
  const startCpu = process.cpuUsage()
  const job = run('locate', { countIncidental: true, asBuilt: true }, site, cache)
  let beforeMs = startMs
  for (;;) {
    const step = job.next()
    const nowMs = performance.now()
    const name = step.done ? 'answer' : step.value.stage
    let stage = stages.find((other) => other.stage === name)
    if (!stage) stages.push((stage = { stage: name, ms: 0, longestMs: 0 }))
    stage.ms += nowMs - beforeMs
    stage.longestMs = Math.max(stage.longestMs, nowMs - beforeMs)
    beforeMs = nowMs
    if (!step.done) continue
    if (!step.value.ok) throw new Error(JSON.stringify(step.value.error))
    const cpu = process.cpuUsage(startCpu)
    return { ms: nowMs - startMs, cpuMs: (cpu.user + cpu.system) / 1000, stages, answer: step.value.value }
  }
}

/** The same site before its last `without` readings. */
function before(site: Site, without: number): Site {
  const readings = site.record.filter(({ entry }) => entry === 'reading')
  const left = new Set(readings.slice(readings.length - without).map(({ id }) => id))
  return { ...site, record: site.record.filter(({ id }) => !left.has(id)) }
}

/** Opens a file, ranks it without its last readings, and then again after each of them. */
export function timedRun(file: string, further: number): Timed {
  const opened = openSite(readFileSync(file), file)
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const site = opened.value
  const cache = emptySiteCache()
  const first = ask(before(site, further), cache)
  const furtherRuns = Array.from({ length: further }, (_, k) => ask(before(site, further - 1 - k), cache))
  const last = present(furtherRuns.at(-1) ?? first, 'a ranking')
  const all = [first, ...furtherRuns].flatMap(({ stages }) => stages)
  return {
    site: site.name,
    joints: last.answer.coverage.joints,
    readings: last.answer.readings.length,
    firstMs: first.ms,
    stages: first.stages,
    furtherMs: furtherRuns.map(({ ms }) => ms),
    firstCpuMs: first.cpuMs,
    furtherCpuMs: median(furtherRuns.map(({ cpuMs }) => cpuMs)),
    furtherStages: last.stages,
    longestMs: Math.max(...all.map(({ longestMs }) => longestMs)),
    answerBytes: JSON.stringify(last.answer).length,
    peakMb: Math.round(process.resourceUsage().maxRSS / 1024),
    afterMb: megabytes(process.memoryUsage().rss),
    answer: last.answer,
  }
}
