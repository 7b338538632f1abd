import { assert } from '../base/assert.ts'
import type { Result } from '../base/result.ts'
import type { Basis } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { isCurrent } from './basis.ts'
import { JobQueue } from './jobQueue.ts'
import type { FromWorker, ToWorker } from './protocol.ts'
import type { AnswerTo, RequestName } from './requests.ts'
import { run } from './run.ts'
import { emptySiteCache, replaceDrawing } from './siteCache.ts'
import { changedSite } from './siteDiff.ts'
import { withTransfer } from './transfer.ts'

/** What a thread lends to the work: a clock, a way to be called again after messages were heard, a way out. */
export interface WorkerHost {
  readonly now: () => number
  readonly later: (turn: () => void) => void
  readonly post: (message: FromWorker, transfer: readonly ArrayBuffer[]) => void
}

/**
 * What many small answers wait for goes last, so that a hover is answered while a site is being ranked; and what somebody
 * presses a button for, and has within seconds, goes before it.
 */
const ranks: Readonly<Record<RequestName, number>> = {
  currentMap: 0,
  expect: 0,
  inspectJoint: 0,
  inspectPart: 0,
  resistance: 0,
  judge: 1,
  currents: 1,
  locate: 2,
  compare: 5,
  check: 3,
  network: 3,
  sample: 3,
  next: 4,
  coverage: 1,
  jointSight: 0,
  faultCurrent: 1,
  faultSweep: 1,
  groundVolts: 1,
  groundStand: 1,
  drillStart: 1,
  drillReading: 1,
  drillCall: 1,
  drillAsk: 1,
  drillResume: 1,
  lesson: 1,
  plan: 6,
  walk: 1,
}

type Answered = Result<AnswerTo<RequestName>, readonly Problem[]>

/**
 * The worker without its thread: holds the site, hears messages, answers them in turns. A question is about the
 * site as it stood when the question came in; its answer says so by its basis.
 */
export function workerCore({ now, later, post }: WorkerHost): (message: ToWorker) => void {
  const cache = emptySiteCache()
  const askedOf = new Map<number, { readonly name: RequestName; readonly basis: Basis }>()
  let site: Site | null = null
  let isCalled = false

  const queue = new JobQueue<Answered>({
    now,
    onProgress: (id, progress) => post({ kind: 'progress', id, progress }, []),
    onCancelled(id) {
      askedOf.delete(id)
      post({ kind: 'cancelled', id }, [])
    },
    onDone(id, result) {
      const asked = askedOf.get(id)
      assert(asked !== undefined, 'only what was asked is answered')
      askedOf.delete(id)
      if (!result.ok) return post({ kind: 'problem', id, problems: result.error }, [])
      const { answer, transfer } = withTransfer(asked.name, result.value)
      post({ kind: 'done', id, basis: asked.basis, answer }, transfer)
    },
  })

  const work = () => {
    isCalled = false
    if (queue.turn()) call()
  }
  const call = () => {
    if (isCalled) return
    isCalled = true
    later(work)
  }

  return (message) => {
    switch (message.kind) {
      case 'site': {
        const before = site
        site = changedSite(site, message.change)
        if (before !== null && before.id !== site?.id) queue.cancelAll()
        else if (before !== null && site !== null) replaceDrawing(cache, before.drawing, site.drawing)
        return
      }
      case 'cancel':
        return queue.cancel(message.id)
      case 'ask': {
        const { id, name, input, basis } = message
        assert(site !== null && isCurrent(basis, site), 'a question is about the site that was sent last')
        askedOf.set(id, { name, basis })
        queue.add({ id, name, rank: ranks[name], steps: run(name, input, site, cache) })
        call()
      }
    }
  }
}
