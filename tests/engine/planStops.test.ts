import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { basisOf } from '../../src/engine/basis.ts'
import { finish, type Progress } from '../../src/engine/progress.ts'
import type { FromWorker } from '../../src/engine/protocol.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { siteChange } from '../../src/engine/siteDiff.ts'
import { workerCore } from '../../src/engine/workerCore.ts'
import type { PlanInput } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'

const site = JSON.parse(readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8')) as Site

const asked: PlanInput = {
  countIncidental: true,
  asBuilt: false,
  severity: 'open',
  required: [],
  how: 'proposed',
  tellApart: 0,
  timesShown: 1,
  mostMinutes: null,
  persons: 1,
}

const stages: readonly Progress['stage'][] = [
  'index',
  'compile',
  'prepare',
  'candidates',
  'choose',
  'walk',
  'coverage',
]

it('a plan says how far it has come, stage after stage, and never goes back', () => {
  const told: Progress[] = []
  const answer = finish(run('plan', asked, site, emptySiteCache()), (progress) => told.push(progress))
  expect(answer.ok).toBe(true)
  expect([...new Set(told.map(({ stage }) => stage))]).toEqual(stages)
  told.forEach(({ stage, fraction }, k) => {
    expect(fraction).toBeGreaterThanOrEqual(0)
    expect(fraction).toBeLessThanOrEqual(1 + 1e-9)
    if (k === 0) return
    const before = told[k - 1]
    expect(stages.indexOf(stage)).toBeGreaterThanOrEqual(stages.indexOf(before.stage))
    if (stage === before.stage) {
      expect(fraction, `${stage}, step ${k}`).toBeGreaterThanOrEqual(before.fraction - 1e-9)
    }
  })
})

/** A worker without its thread, under a clock that every look at it moves on. */
function workerUnderTest() {
  const told: FromWorker[] = []
  let due: (() => void) | null = null
  let ms = 0
  const hear = workerCore({
    now: () => (ms += 5),
    later: (turn) => (due = turn),
    post: (message) => told.push(message),
  })
  /** Works until something holds or nothing is left; whether it came to hold. */
  const workUntil = (holds: () => boolean) => {
    while (!holds()) {
      const turn = due
      if (!turn) return false
      due = null
      turn()
    }
    return true
  }
  return { told, hear, workUntil }
}

it.each(['candidates', 'choose', 'walk', 'coverage'] as const)(
  'a plan that is taken back while it is at %s stops there, and asked again is what it would have been',
  (stage) => {
    const { told, hear, workUntil } = workerUnderTest()
    const isAt = (message: FromWorker) => message.kind === 'progress' && message.progress.stage === stage
    hear({ kind: 'site', change: siteChange(null, site) })
    hear({ kind: 'ask', id: 1, basis: basisOf(site), name: 'plan', input: asked })
    expect(workUntil(() => told.some(isAt))).toBe(true)
    hear({ kind: 'cancel', id: 1 })
    const soFar = told.filter(({ kind }) => kind === 'progress').length
    expect(workUntil(() => false)).toBe(false)
    expect(told.filter(({ kind }) => kind === 'progress')).toHaveLength(soFar)
    expect(told.some(({ kind }) => kind === 'done')).toBe(false)
    expect(told.some((message) => message.kind === 'cancelled' && message.id === 1)).toBe(true)
    if (stage !== 'choose') return
    hear({ kind: 'ask', id: 2, basis: basisOf(site), name: 'plan', input: asked })
    workUntil(() => false)
    const [answer] = told.flatMap((message) => (message.kind === 'done' ? [message] : []))
    const alone = finish(run('plan', asked, site, emptySiteCache()))
    expect(answer.id).toBe(2)
    expect(alone.ok && answer.answer).toEqual(alone.ok && alone.value)
  },
  60_000,
)
