import { describe, expect, it } from 'vitest'
import { EngineClient, startWithinMs, type EngineState } from '../../src/engine/client.ts'
import { finish } from '../../src/engine/progress.ts'
import type { FromWorker, ToWorker } from '../../src/engine/protocol.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { workerCore } from '../../src/engine/workerCore.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { FakeLocks } from './fakeLocks.ts'
import { smallSite } from './smallSite.ts'

/**
 * The worker's core behind the face of a Worker: messages are cloned as between threads, and nothing happens
 * until `step` lets the next message or turn have its go.
 */
class FakeWorker {
  readonly heard: ToWorker[] = []
  readonly #listeners = new Map<string, ((event: Event) => void)[]>()
  readonly #inbox: ToWorker[] = []
  #turns: (() => void)[] = []
  isTerminated = false
  readonly #hear = workerCore({
    now: () => 0,
    later: (turn) => void this.#turns.push(turn),
    post: (message, transfer) => this.tell(structuredClone(message, { transfer: [...transfer] })),
  })

  addEventListener(type: string, listener: (event: Event) => void): void {
    this.#listeners.set(type, [...(this.#listeners.get(type) ?? []), listener])
  }

  postMessage(message: ToWorker): void {
    this.#inbox.push(structuredClone(message))
  }

  terminate(): void {
    this.isTerminated = true
  }

  tell(data: FromWorker): void {
    this.#emit('message', { data })
  }

  crash(): void {
    this.#emit('error', { preventDefault: () => undefined })
  }

  /** Hears all messages; then works off what was asked, if it is not to be only heard. */
  step(isWorking = true): void {
    for (let message = this.#inbox.shift(); message; message = this.#inbox.shift()) {
      this.heard.push(message)
      this.#hear(message)
    }
    while (isWorking && this.#turns.length > 0) {
      const turns = this.#turns
      this.#turns = []
      for (const turn of turns) turn()
    }
  }

  #emit(type: string, event: object): void {
    for (const listener of this.#listeners.get(type) ?? []) listener(event as Event)
  }
}

/** Time that passes when the test says so. */
class FakeTimer {
  #nowMs = 0
  #waiting: { readonly atMs: number; readonly act: () => void }[] = []

  get count(): number {
    return this.#waiting.length
  }

  readonly after = (delayMs: number, act: () => void) => {
    const waiting = { atMs: this.#nowMs + delayMs, act }
    this.#waiting.push(waiting)
    return () => {
      this.#waiting = this.#waiting.filter((other) => other !== waiting)
    }
  }

  pass(ms: number): void {
    this.#nowMs += ms
    const due = this.#waiting.filter(({ atMs }) => atMs <= this.#nowMs)
    this.#waiting = this.#waiting.filter((waiting) => !due.includes(waiting))
    for (const { act } of due) act()
  }
}

function clientUnderTest(site: Site | null = smallSite(), locks: FakeLocks | null = null) {
  const timer = new FakeTimer()
  const workers: FakeWorker[] = []
  const states: EngineState[] = []
  const client = new EngineClient({
    spawn() {
      const worker = new FakeWorker()
      workers.push(worker)
      return worker as unknown as Worker
    },
    onState: (state) => states.push(state),
    locks,
    after: timer.after,
  })
  client.setSite(site)
  const kinds = (worker: FakeWorker) =>
    worker.heard.map((message) => (message.kind === 'ask' ? `ask ${message.name}` : message.kind))
  return { client, workers, states, kinds, timer }
}

const ready: FromWorker = { kind: 'ready', lifeLock: null }
const counted = { countIncidental: true, asBuilt: false }
const pair = (from: string, to: string) => ({ ...counted, from, to })
/** Whether a promise is settled by now. */
async function isOpen(promise: Promise<unknown>): Promise<boolean> {
  const open = Symbol('open')
  return (await Promise.race([promise, Promise.resolve(open)])) === open
}

describe('questions', () => {
  it('are answered like the synchronous core does, with the basis', async () => {
    const site = smallSite()
    const { client, workers } = clientUnderTest(site)
    const asked = client.ask('resistance', pair('E1', 'E3'))
    workers[0].step()
    const direct = finish(run('resistance', pair('E1', 'E3'), site, emptySiteCache()))
    expect(await asked).toEqual({
      status: 'done',
      answer: direct.ok ? direct.value : null,
      basis: { drawingRevision: site.drawing.revision, recordLength: 0 },
    })
  })

  it('end in problems where they have no answer', async () => {
    const { client, workers } = clientUnderTest()
    const asked = client.ask('resistance', pair('E1', 'E77'))
    workers[0].step()
    expect(await asked).toMatchObject({ status: 'problem', problems: [{ code: 'reference.noSuchPart' }] })
  })

  it('of different names are all answered; of one name only the newest is', async () => {
    const { client, workers } = clientUnderTest()
    const older = client.ask('resistance', pair('E1', 'E2'))
    const other = client.ask('check', counted)
    const newer = client.ask('resistance', pair('E1', 'E3'))
    expect(await older).toEqual({ status: 'cancelled' })
    workers[0].step()
    expect(await newer).toMatchObject({ status: 'done', answer: { to: 'E3' } })
    expect(await other).toMatchObject({ status: 'done', answer: { valid: true } })
  })

  it('that were overtaken stay cancelled when their answer comes late', async () => {
    const { client, workers } = clientUnderTest()
    const older = client.ask('resistance', pair('E1', 'E2'))
    workers[0].step(false)
    const newer = client.ask('resistance', pair('E1', 'E3'))
    const answer = { from: 'E1', to: 'E2' } as never
    workers[0].tell({ kind: 'done', id: 1, basis: { drawingRevision: '', recordLength: 0 }, answer })
    expect(await older).toEqual({ status: 'cancelled' })
    expect(await isOpen(newer)).toBe(true)
    workers[0].step()
    expect(await newer).toMatchObject({ status: 'done', answer: { to: 'E3' } })
  })

  it('say of which state of the site they are, also when it moved on meanwhile', async () => {
    const site = smallSite()
    const { client, workers } = clientUnderTest(site)
    const asked = client.ask('resistance', pair('E1', 'E3'))
    const revision = '00000000-0000-4000-8000-00000000000b'
    const { extraJoints } = site.drawing
    const changed = extraJoints.with(2, { ...extraJoints[2], medianOhm: 0.5 })
    client.setSite({ ...site, drawing: { ...site.drawing, revision, extraJoints: changed } })
    workers[0].step()
    const first = await asked
    expect(first).toMatchObject({ status: 'done', basis: { drawingRevision: site.drawing.revision } })
    const again = client.ask('resistance', pair('E1', 'E3'))
    workers[0].step()
    expect(await again).toMatchObject({ status: 'done', basis: { drawingRevision: revision } })
    const second = await again
    const ohm = (outcome: typeof first) => (outcome.status === 'done' ? outcome.answer.resistanceOhm : NaN)
    expect(ohm(first)).toBeCloseTo(0.25, 12)
    expect(ohm(second)).toBeCloseTo(0.55, 12)
  })

  it('without a site, or after the end, are cancelled', async () => {
    const { client, workers } = clientUnderTest(null)
    expect(await client.ask('check', counted)).toEqual({ status: 'cancelled' })
    client.setSite(smallSite())
    const open = client.ask('check', counted)
    client.dispose()
    expect(await open).toEqual({ status: 'cancelled' })
    expect(workers[0].isTerminated).toBe(true)
    expect(await client.ask('check', counted)).toEqual({ status: 'cancelled' })
  })

  it('about a site that was put away are cancelled, in the worker too', async () => {
    const { client, workers } = clientUnderTest()
    const open = client.ask('check', counted)
    workers[0].step(false)
    client.setSite({ ...smallSite(), id: '00000000-0000-4000-8000-0000000000aa' })
    expect(await open).toEqual({ status: 'cancelled' })
    const told: string[] = []
    workers[0].addEventListener('message', (event) =>
      told.push((event as MessageEvent<FromWorker>).data.kind),
    )
    workers[0].step()
    expect(told).toEqual(['cancelled'])
  })

  it('that were taken back are cancelled at once, and the worker stops; the next one is answered', async () => {
    const { client, workers, kinds } = clientUnderTest()
    const back = client.ask('check', counted)
    const other = client.ask('resistance', pair('E1', 'E3'))
    workers[0].step(false)
    const told: FromWorker[] = []
    workers[0].addEventListener('message', (event) => told.push((event as MessageEvent<FromWorker>).data))
    client.cancel('check')
    client.cancel('check')
    client.cancel('judge')
    expect(await back).toEqual({ status: 'cancelled' })
    workers[0].step()
    expect(told.map(({ kind }) => kind)).toEqual(['cancelled', 'done'])
    expect(await other).toMatchObject({ status: 'done' })
    expect(kinds(workers[0])).toEqual(['site', 'ask check', 'ask resistance', 'cancel'])
    const again = client.ask('check', counted)
    workers[0].step()
    expect(await again).toMatchObject({ status: 'done', answer: { valid: true } })
  })

  it('arrays are given away, and a second answer has its own', async () => {
    const { client, workers } = clientUnderTest()
    const lengths: number[] = []
    for (const name of ['network', 'network'] as const) {
      const asked = client.ask(name, counted)
      workers[0].step()
      const outcome = await asked
      if (outcome.status === 'done') lengths.push(outcome.answer.medianOhm.length)
    }
    const map = client.ask('currentMap', pair('E1', 'E3'))
    workers[0].step()
    expect(lengths).toEqual([7, 7])
    expect(await map).toMatchObject({ status: 'done', answer: { path: 'metal' } })
  })
})

describe('the site', () => {
  it('is sent whole once, then by what changed; unchanged not at all', () => {
    const site = smallSite()
    const { client, workers } = clientUnderTest(site)
    client.setSite(site)
    client.setSite({ ...site, name: 'renamed' })
    workers[0].step()
    const forms = workers[0].heard.map((message) => (message.kind === 'site' ? message.change.form : 'other'))
    expect(forms).toEqual(['whole', 'parts'])
  })
})

describe('a worker that dies', () => {
  it('is started again, gets the site and the open questions, and nobody has lost an answer', async () => {
    const { client, workers, states, kinds } = clientUnderTest()
    workers[0].tell(ready)
    const resistance = client.ask('resistance', pair('E1', 'E3'))
    const check = client.ask('check', counted)
    workers[0].crash()
    expect(workers[0].isTerminated).toBe(true)
    expect(workers).toHaveLength(2)
    workers[1].tell(ready)
    workers[1].step()
    expect(kinds(workers[1])).toEqual(['site', 'ask resistance', 'ask check'])
    expect(await resistance).toMatchObject({ status: 'done' })
    expect(await check).toMatchObject({ status: 'done' })
    expect(states).toEqual(['ready', 'restarting', 'ready'])
  })

  it('only the newest question of each name is asked again', async () => {
    const { client, workers, kinds } = clientUnderTest()
    const older = client.ask('resistance', pair('E1', 'E2'))
    const newer = client.ask('resistance', pair('E1', 'E3'))
    workers[0].crash()
    workers[1].step()
    expect(kinds(workers[1])).toEqual(['site', 'ask resistance'])
    expect(await older).toEqual({ status: 'cancelled' })
    expect(await newer).toMatchObject({ status: 'done', answer: { to: 'E3' } })
  })

  it('the question is asked of the site as it is now', async () => {
    const site = smallSite()
    const { client, workers } = clientUnderTest(site)
    const asked = client.ask('resistance', pair('E1', 'E3'))
    const revision = '00000000-0000-4000-8000-00000000000b'
    client.setSite({ ...site, drawing: { ...site.drawing, revision } })
    workers[0].crash()
    workers[1].step()
    expect(await asked).toMatchObject({ status: 'done', basis: { drawingRevision: revision } })
  })

  it('twice over the same question: it is told as died, and so is what is asked then', async () => {
    const { client, workers, states } = clientUnderTest()
    const asked = client.ask('check', counted)
    workers[0].crash()
    workers[1].crash()
    expect(await asked).toEqual({ status: 'died' })
    expect(workers).toHaveLength(2)
    expect(await client.ask('check', counted)).toEqual({ status: 'died' })
    expect(states).toEqual(['restarting', 'failed'])
  })

  it('twice, but with all answers in between: is started again', async () => {
    const { client, workers, states } = clientUnderTest()
    const first = client.ask('check', counted)
    workers[0].crash()
    workers[1].step()
    await first
    const second = client.ask('check', counted)
    workers[1].crash()
    workers[2].step()
    expect(await second).toMatchObject({ status: 'done' })
    expect(states).toEqual(['restarting', 'restarting'])
  })

  it('an answer to another question does not make a second start of the same failure', async () => {
    const { client, workers } = clientUnderTest()
    const bad = client.ask('network', counted)
    workers[0].crash()
    const other = client.ask('check', counted)
    workers[1].tell({
      kind: 'done',
      id: 2,
      basis: { drawingRevision: '', recordLength: 0 },
      answer: {} as never,
    })
    expect(await other).toMatchObject({ status: 'done' })
    workers[1].crash()
    expect(await bad).toEqual({ status: 'died' })
    expect(workers).toHaveLength(2)
  })

  it('the question that it died over is not asked a third time once it is taken back', async () => {
    const { client, workers } = clientUnderTest()
    void client.ask('network', counted)
    workers[0].crash()
    client.cancel('network')
    const check = client.ask('check', counted)
    workers[1].crash()
    workers[2].step()
    expect(await check).toMatchObject({ status: 'done' })
  })

  it('for good is started anew when the site is another', async () => {
    const site = smallSite()
    const { client, workers, states } = clientUnderTest(site)
    workers[0].crash()
    workers[1].crash()
    expect(states).toEqual(['restarting', 'failed'])
    client.setSite({ ...site, name: 'other' })
    const asked = client.ask('check', counted)
    workers[2].step()
    expect(await asked).toMatchObject({ status: 'done', answer: { name: 'other' } })
  })

  it('what it still says after its end is not heard', async () => {
    const { client, workers } = clientUnderTest()
    const asked = client.ask('check', counted)
    workers[0].crash()
    workers[0].tell({ kind: 'cancelled', id: 1 })
    workers[0].crash()
    expect(workers).toHaveLength(2)
    workers[1].step()
    expect(await asked).toMatchObject({ status: 'done' })
  })
})

describe('a worker that ends without a word', () => {
  const readyWith = (lifeLock: string): FromWorker => ({ kind: 'ready', lifeLock })

  it('is noticed by its lock; the site and the open question go to the next', async () => {
    const locks = new FakeLocks()
    const { client, workers, states } = clientUnderTest(smallSite(), locks)
    const endFirst = locks.hold('first')
    workers[0].tell(readyWith('first'))
    const asked = client.ask('resistance', pair('E1', 'E3'))
    await locks.settle()
    expect(workers).toHaveLength(1)
    endFirst()
    await locks.settle()
    expect(workers).toHaveLength(2)
    expect(states).toEqual(['ready', 'restarting'])
    workers[1].step()
    expect(await asked).toMatchObject({ status: 'done' })
  })

  it('is noticed while nothing is asked, and again after a restart that answered', async () => {
    const locks = new FakeLocks()
    const { client, workers, states } = clientUnderTest(smallSite(), locks)
    for (const k of [0, 1, 2]) {
      const end = locks.hold(`lock ${k}`)
      workers[k].tell(readyWith(`lock ${k}`))
      const asked = client.ask('check', counted)
      workers[k].step()
      expect(await asked).toMatchObject({ status: 'done' })
      end()
      await locks.settle()
    }
    expect(workers).toHaveLength(4)
    expect(states).not.toContain('failed')
  })

  it('is watched only once it holds its lock, so that a lock nobody has taken yet is no death', async () => {
    const locks = new FakeLocks()
    const { workers } = clientUnderTest(smallSite(), locks)
    await locks.settle()
    expect(locks.waiting).toEqual([])
    locks.hold('first')
    workers[0].tell(readyWith('first'))
    expect(locks.waiting).toEqual(['first'])
  })

  it('after an error of it, or at our own end, nobody waits for its lock and its release is not a death', async () => {
    const locks = new FakeLocks()
    const { client, workers } = clientUnderTest(smallSite(), locks)
    const endFirst = locks.hold('first')
    workers[0].tell(readyWith('first'))
    workers[0].crash()
    expect(locks.waiting).toEqual([])
    endFirst()
    const endSecond = locks.hold('second')
    workers[1].tell(readyWith('second'))
    client.dispose()
    expect(locks.waiting).toEqual([])
    endSecond()
    await locks.settle()
    expect(workers).toHaveLength(2)
  })

  it('is not watched where the worker or the page has no locks', async () => {
    const locks = new FakeLocks()
    const { workers } = clientUnderTest(smallSite(), locks)
    workers[0].tell(ready)
    expect(locks.waiting).toEqual([])
    const { workers: others, states } = clientUnderTest(smallSite(), null)
    others[0].tell(readyWith('first'))
    expect(states).toEqual(['ready'])
  })
})

describe('a worker that never gets ready', () => {
  it('is started once more, with the site and the open question; the next one answers', async () => {
    const { client, workers, states, kinds, timer } = clientUnderTest()
    const asked = client.ask('resistance', pair('E1', 'E3'))
    timer.pass(startWithinMs - 1)
    expect(workers).toHaveLength(1)
    timer.pass(1)
    expect(workers).toHaveLength(2)
    expect(workers[0].isTerminated).toBe(true)
    expect(states).toEqual(['restarting'])
    workers[1].tell(ready)
    workers[1].step()
    expect(kinds(workers[1])).toEqual(['site', 'ask resistance'])
    expect(await asked).toMatchObject({ status: 'done' })
    expect(states).toEqual(['restarting', 'ready'])
    timer.pass(10 * startWithinMs)
    expect(workers).toHaveLength(2)
  })

  it('twice: the questions are told as died, and it is left at that until the site is another', async () => {
    const site = smallSite()
    const { client, workers, states, timer } = clientUnderTest(site)
    const asked = client.ask('check', counted)
    timer.pass(startWithinMs)
    timer.pass(startWithinMs)
    expect(await asked).toEqual({ status: 'died' })
    expect(states).toEqual(['restarting', 'failed'])
    timer.pass(10 * startWithinMs)
    expect(workers).toHaveLength(2)
    client.setSite({ ...site, name: 'other' })
    expect(workers).toHaveLength(3)
    timer.pass(startWithinMs)
    expect(workers).toHaveLength(4)
  })

  it('counts from each start anew, and any word of the worker is enough', async () => {
    const { client, workers, states, timer } = clientUnderTest()
    timer.pass(startWithinMs / 2)
    workers[0].crash()
    const asked = client.ask('check', counted)
    timer.pass(startWithinMs / 2)
    expect(states).toEqual(['restarting'])
    workers[1].step()
    expect(await asked).toMatchObject({ status: 'done' })
    timer.pass(10 * startWithinMs)
    expect(states).toEqual(['restarting'])
    expect(workers).toHaveLength(2)
  })

  it('is not waited for after our own end', () => {
    const { client, workers, states, timer } = clientUnderTest()
    expect(timer.count).toBe(1)
    client.dispose()
    expect(timer.count).toBe(0)
    timer.pass(startWithinMs)
    expect(workers).toHaveLength(1)
    expect(states).toEqual([])
  })
})
