import { afterEach, expect, it } from 'vitest'
import fieldText from '../../demo-data/field.json?raw'
import { EngineClient, type EngineState } from '../../src/engine/client.ts'
import { finish } from '../../src/engine/progress.ts'
import type { FromWorker, ToWorker } from '../../src/engine/protocol.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { basisOf } from '../../src/engine/basis.ts'
import { openSite } from '../../src/files/openSite.ts'
import type { Site } from '../../src/model/schema/site.ts'

const counted = { countIncidental: true, asBuilt: true }
const toDispose: (() => void)[] = []
afterEach(() => {
  for (const dispose of toDispose.splice(0)) dispose()
})

function field(): Site {
  const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
  if (!opened.ok) throw new Error('the demo site opens')
  return opened.value
}

function spawnWorker(): Worker {
  return new Worker(new URL('../../src/engine/worker.ts', import.meta.url), { type: 'module' })
}

/** The demo site with its rows many times over, so that no ranking of it ends before a page is heard. */
function largeField(): Site {
  const site = field()
  const { rows, nextIds } = site.drawing
  const many = Array.from({ length: 30 }, (_, k) =>
    rows.map((row) => ({
      ...row,
      id: row.id + k * nextIds.row,
      originM: { x: row.originM.x, y: row.originM.y + 1000 * k },
    })),
  ).flat()
  return { ...site, drawing: { ...site.drawing, rows: many, nextIds: { ...nextIds, row: 30 * nextIds.row } } }
}

function startClient(site: Site) {
  const states: EngineState[] = []
  const workers: Worker[] = []
  const client = new EngineClient({
    spawn() {
      const worker = spawnWorker()
      workers.push(worker)
      return worker
    },
    onState: (state) => states.push(state),
  })
  toDispose.push(() => client.dispose())
  client.setSite(site)
  return { client, states, workers }
}

it('ranks the demo site in its own thread, to the last digit as the synchronous core does', async () => {
  const site = field()
  const { client, states } = startClient(site)
  const [located, judged] = await Promise.all([client.ask('locate', counted), client.ask('judge', counted)])
  const cache = emptySiteCache()
  const locate = finish(run('locate', counted, site, cache))
  const judge = finish(run('judge', counted, site, cache))
  expect(locate.ok && judge.ok).toBe(true)
  expect(located).toEqual({ status: 'done', answer: locate.ok && locate.value, basis: basisOf(site) })
  expect(judged).toEqual({ status: 'done', answer: judge.ok && judge.value, basis: basisOf(site) })
  expect(states).toEqual(['ready'])
})

it('a reading that is appended reaches the worker by itself, and the ranking counts it', async () => {
  const site = field()
  const short = { ...site, record: site.record.slice(0, -5) }
  const { client } = startClient(short)
  await client.ask('locate', counted)
  client.setSite(site)
  const located = await client.ask('locate', counted)
  const direct = finish(run('locate', counted, site, emptySiteCache()))
  expect(located).toEqual({ status: 'done', answer: direct.ok && direct.value, basis: basisOf(site) })
})

it('hands over the current of every joint as one array', async () => {
  const site = field()
  const { client } = startClient(site)
  const outcome = await client.ask('currentMap', { ...counted, from: 'B1', to: 'R2/T3/F1.1' })
  if (outcome.status !== 'done') throw new Error(outcome.status)
  const { answer } = outcome
  expect(answer.perAmpere).toBeInstanceOf(Float32Array)
  expect(Math.max(...answer.perAmpere.map(Math.abs))).toBeCloseTo(1, 6)
})

it('a newer request is heard while an older one is worked on, and takes its place', async () => {
  const worker = spawnWorker()
  toDispose.push(() => worker.terminate())
  const site = largeField()
  const basis = basisOf(site)
  const told: string[] = []
  const post = (message: ToWorker) => worker.postMessage(message)
  const isOver = new Promise<void>((resolve, reject) => {
    worker.onerror = () => reject(new Error('the worker died'))
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
      const what = data.kind === 'ready' ? data.kind : `${data.kind} ${data.id}`
      if (told.includes(what)) return
      told.push(what)
      if (what === 'progress 1') post({ kind: 'ask', id: 2, basis, name: 'locate', input: counted })
      if (what === 'progress 2') post({ kind: 'cancel', id: 2 })
      if (what === 'cancelled 2') post({ kind: 'ask', id: 3, basis, name: 'judge', input: counted })
      if (what === 'done 3') resolve()
    }
  })
  post({ kind: 'site', change: { form: 'whole', site } })
  post({ kind: 'ask', id: 1, basis, name: 'locate', input: counted })
  await isOver
  // each had begun when word of its end was sent, and neither went on to its answer
  expect(told.filter((what) => what !== 'ready' && what !== 'progress 3')).toEqual([
    'progress 1',
    'cancelled 1',
    'progress 2',
    'cancelled 2',
    'done 3',
  ])
})

it('a worker whose script fails is started once more and then given up', async () => {
  let failed: () => void = () => undefined
  const isFailed = new Promise<void>((resolve) => (failed = resolve))
  const states: EngineState[] = []
  const broken = URL.createObjectURL(new Blob(['throw new Error("broken")'], { type: 'text/javascript' }))
  const client = new EngineClient({
    spawn: () => new Worker(broken, { type: 'module' }),
    onState(state) {
      states.push(state)
      if (state === 'failed') failed()
    },
  })
  toDispose.push(() => client.dispose())
  client.setSite(field())
  const asked = client.ask('locate', counted)
  await isFailed
  expect(await asked).toEqual({ status: 'died' })
  expect(states).toEqual(['restarting', 'failed'])
})
