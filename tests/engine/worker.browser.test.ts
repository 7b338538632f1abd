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

function spawn(): Worker {
  return new Worker(new URL('../../src/engine/worker.ts', import.meta.url), { type: 'module' })
}

function startClient(site: Site) {
  const states: EngineState[] = []
  const workers: Worker[] = []
  const client = new EngineClient({
    spawn() {
      const worker = spawn()
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
  const worker = spawn()
  toDispose.push(() => worker.terminate())
  const site = field()
  const basis = basisOf(site)
  const told: FromWorker[] = []
  const post = (message: ToWorker) => worker.postMessage(message)
  const isDone = new Promise<void>((resolve, reject) => {
    worker.onerror = () => reject(new Error('the worker died'))
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
      told.push(data)
      // the first has begun, and not ended, when word of the second is sent
      if (data.kind === 'done' && data.id === 1)
        post({ kind: 'ask', id: 3, basis, name: 'locate', input: counted })
      if (data.kind === 'done' && data.id === 3) resolve()
    }
  })
  post({ kind: 'site', change: { form: 'whole', site } })
  post({ kind: 'ask', id: 2, basis, name: 'locate', input: counted })
  // of a rank before locate, so that it is answered in the middle of it
  post({ kind: 'ask', id: 1, basis, name: 'resistance', input: { ...counted, from: 'B1', to: 'R2/T3/F1.1' } })
  await isDone
  const ends = told.filter(({ kind }) => kind !== 'ready' && kind !== 'progress')
  expect(ends.map((message) => (message.kind === 'ready' ? '' : `${message.kind} ${message.id}`))).toEqual([
    'done 1',
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
