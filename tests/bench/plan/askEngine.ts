import { assert } from '../../../src/base/assert.ts'
import type { AnswerTo, RequestName, Requests } from '../../../src/engine/requests.ts'
import { run } from '../../../src/engine/run.ts'
import type { SiteCache } from '../../../src/engine/siteCache.ts'
import type { Site } from '../../../src/model/schema/site.ts'

export interface Timed<A> {
  readonly answer: A
  readonly seconds: number
  /** Seconds of the processor, which other programs of the machine have no part in. */
  readonly cpuSeconds: number
  /** The most memory that it held at a pause above what was held before, in MB. */
  readonly mostMB: number
}

const heldMB = () => {
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return (heapUsed + arrayBuffers) / 1e6
}

/** Memory is asked for at most this often, in milliseconds: the question takes a while itself. */
const lookEveryMs = 50

/** Asks one question and takes its time. */
export function timed<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  site: Site,
  cache: SiteCache,
): Timed<AnswerTo<N>> {
  globalThis.gc?.()
  const beforeMB = heldMB()
  let mostMB = beforeMB
  const startMs = performance.now()
  const startCpu = process.cpuUsage()
  let lookedMs = startMs
  const job = run(name, input, site, cache)
  let step = job.next()
  while (!step.done) {
    if (performance.now() - lookedMs > lookEveryMs) {
      mostMB = Math.max(mostMB, heldMB())
      lookedMs = performance.now()
    }
    step = job.next()
  }
  const seconds = (performance.now() - startMs) / 1000
  const { user, system } = process.cpuUsage(startCpu)
  const cpuSeconds = (user + system) / 1e6
  mostMB = Math.max(mostMB, heldMB())
  const answered = step.value
  assert(answered.ok, `${name}: ${answered.ok ? '' : JSON.stringify(answered.error.slice(0, 3))}`)
  return { answer: answered.value, seconds, cpuSeconds, mostMB: mostMB - beforeMB }
}
