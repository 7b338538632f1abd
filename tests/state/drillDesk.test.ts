import { describe, expect, it } from 'vitest'
import type { EngineClient, Outcome } from '../../src/engine/client.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { basisOf } from '../../src/engine/basis.ts'
import { finish } from '../../src/engine/progress.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { DrillDesk } from '../../src/state/drillDesk.svelte.ts'
import { readKeptDrill } from '../../src/state/keptDrill.ts'
import { bySeed, fieldSite, longLead, twoWireKit } from '../drill/drillIn.ts'

const site = fieldSite()

function memory() {
  const kept = new Map<string, string>()
  return {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  }
}

/** Answers at once; one that is held back has done its work, but is taken back before anybody hears of it. */
function engine() {
  const cache = emptySiteCache()
  const state = { holdsBack: false }
  let takeBack: (() => void) | null = null
  const ask = async <N extends RequestName>(name: N, input: Requests[N][0]): Promise<Outcome<N>> => {
    await Promise.resolve()
    const result = finish(run(name, input, site, cache))
    if (state.holdsBack) return new Promise((resolve) => (takeBack = () => resolve({ status: 'cancelled' })))
    return result.ok
      ? { status: 'done', answer: result.value, basis: basisOf(site) }
      : { status: 'problem', problems: result.error }
  }
  const cancel = () => takeBack?.()
  return { state, client: { ask, cancel } as Pick<EngineClient, 'ask' | 'cancel'> }
}

async function readTwice(desk: DrillDesk) {
  await desk.start(bySeed(12), twoWireKit, longLead)
  await desk.read({ how: 'new', from: 'B1', to: 'R1/T1/L1.1' })
  await desk.read({ how: 'reseat' })
}

describe('a drill that is left before it is over', () => {
  it('is kept with its steps on this device, and goes on in another run of the program', async () => {
    const store = memory()
    const desk = new DrillDesk({ site }, engine().client, store)
    await readTwice(desk)
    expect(desk.kept).toBeNull()
    const stood = desk.answer

    const later = new DrillDesk({ site }, engine().client, store)
    expect(later.answer).toBeNull()
    expect(later.kept?.stood.readings).toHaveLength(2)
    expect(await later.resume()).toBe(true)
    expect(later.answer).toEqual(stood)
    await later.call({ call: 'giveUp' })
    expect(readKeptDrill(store)).toBeNull()
  })

  it('is of its own site: elsewhere it is neither shown nor lost', async () => {
    const store = memory()
    await readTwice(new DrillDesk({ site }, engine().client, store))
    const other = { ...site, id: '00000000-0000-4000-8000-000000000099' }
    expect(new DrillDesk({ site: other }, engine().client, store).kept).toBeNull()
    const desk = new DrillDesk({ site }, engine().client, store)
    desk.leave()
    expect(desk.kept).not.toBeNull()
    desk.putKeptAway()
    expect(new DrillDesk({ site }, engine().client, store).kept).toBeNull()
  })

  it('is none where the store is damaged or blocked', async () => {
    const store = memory()
    for (const text of ['{', '{"site":"x"}', 'null', '[]']) {
      store.setItem('groundweave-drill', text)
      expect(new DrillDesk({ site }, engine().client, store).kept).toBeNull()
    }
    const desk = new DrillDesk({ site }, engine().client, null)
    await readTwice(desk)
    expect(desk.answer?.readings).toHaveLength(2)
  })
})

describe('stopping', () => {
  it('tells what was done all the same before the engine heard of it', async () => {
    const { state, client } = engine()
    const desk = new DrillDesk({ site }, client, null)
    await readTwice(desk)
    state.holdsBack = true
    const reading = desk.read({ how: 'again' })
    await Promise.resolve()
    await Promise.resolve()
    state.holdsBack = false
    await desk.cancel()
    expect(await reading).toBe(false)
    expect(desk.progress).toBeNull()
    expect(desk.answer?.readings).toHaveLength(3)
  })

  it('before a joint is hidden leaves nothing behind', async () => {
    const { state, client } = engine()
    const desk = new DrillDesk({ site }, client, memory())
    state.holdsBack = true
    const begun = desk.start(bySeed(12), twoWireKit, longLead)
    await Promise.resolve()
    await Promise.resolve()
    await desk.cancel()
    expect(await begun).toBe(false)
    expect([desk.answer, desk.kept]).toEqual([null, null])
  })
})
