import { describe, expect, it } from 'vitest'
import { basisOf } from '../../src/engine/basis.ts'
import type { EngineClient, Outcome } from '../../src/engine/client.ts'
import type { Progress } from '../../src/engine/progress.ts'
import type { RequestName } from '../../src/engine/requests.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { Results } from '../../src/state/results.svelte.ts'
import { smallSite } from '../engine/smallSite.ts'

interface Asked {
  readonly name: RequestName
  readonly settle: (outcome: Outcome<RequestName>) => void
  readonly onProgress?: (progress: Progress) => void
}

/** Holds every question until the test says how it ends. */
class EngineInHand {
  open: Asked[] = []
  readonly names: string[] = []

  setSite(): void {
    return
  }

  ask(name: RequestName, _input: unknown, onProgress?: (progress: Progress) => void) {
    this.names.push(name)
    return new Promise<Outcome<RequestName>>((settle) => this.open.push({ name, settle, onProgress }))
  }

  cancel(name: RequestName): void {
    this.end(name, { status: 'cancelled' })
  }

  end(name: RequestName, outcome: Outcome<RequestName>): void {
    const ended = this.open.filter((asked) => asked.name === name)
    this.open = this.open.filter((asked) => asked.name !== name)
    for (const { settle } of ended) settle(outcome)
  }
}

function start(site: Site = smallSite()) {
  const engine = new EngineInHand()
  const results = new Results(engine as unknown as EngineClient)
  results.refresh(site)
  const ends = (name: 'locate' | 'next') => async (of: Site) => {
    const basis = basisOf(of)
    engine.end(name, { status: 'done', basis, answer: { basis } as never })
    await Promise.resolve()
  }
  return { site, engine, results, answer: ends('locate'), answerNext: ends('next') }
}

const changed = (site: Site, revision: string): Site => ({
  ...site,
  drawing: { ...site.drawing, revision },
})
const openNames = ({ open }: EngineInHand) => open.map(({ name }) => name)

describe('stopping', () => {
  it('ends what is asked of the whole site and keeps the answer of before, which is not current', async () => {
    const { site, engine, results, answer } = start()
    await answer(site)
    expect(results.isCurrent).toBe(true)
    results.refresh({ ...site, drawing: { ...site.drawing, revision: 'next' } })
    expect(results.progress).not.toBeNull()
    results.cancel()
    await Promise.resolve()
    expect(openNames(engine)).toEqual([])
    expect(results.progress).toBeNull()
    expect(results.isStopped).toBe(true)
    expect(results.isCurrent).toBe(false)
    expect(results.locate?.basis).toEqual(basisOf(site))
  })

  it('leaves a question alone whose answer only its asker needs', async () => {
    const { engine, results } = start()
    const asked = results.ask('expect', { from: 'E1', to: 'E3', countIncidental: true, asBuilt: true })
    results.cancel()
    expect(openNames(engine)).toEqual(['expect'])
    engine.end('expect', { status: 'cancelled' })
    expect(await asked).toBeNull()
  })

  it('does nothing where nothing is under way', async () => {
    const { site, results, answer } = start()
    await answer(site)
    results.cancel()
    expect(results.isStopped).toBe(false)
    expect(results.isCurrent).toBe(true)
  })

  it('going on asks again, and the answer is current', async () => {
    const { site, engine, results, answer } = start()
    results.cancel()
    engine.names.length = 0
    results.goOn()
    expect(results.isStopped).toBe(false)
    expect(results.progress).not.toBeNull()
    expect(engine.names).toEqual(['judge', 'locate'])
    await answer(site)
    expect(results.isCurrent).toBe(true)
    results.goOn()
    expect(engine.names).toEqual(['judge', 'locate', 'next'])
  })

  it('ends with the next change of the site, and with its closing', () => {
    const { site, results } = start()
    results.cancel()
    results.refresh({ ...site, name: 'renamed' })
    expect(results.isStopped).toBe(false)
    results.cancel()
    results.refresh(null)
    expect(results.isStopped).toBe(false)
  })
})

describe('what to do next', () => {
  it('is asked once the ranking is there, and not before', async () => {
    const { site, engine, results, answer, answerNext } = start()
    expect(openNames(engine)).not.toContain('next')
    expect(results.nextProgress).toBeNull()
    await answer(site)
    expect(openNames(engine)).toContain('next')
    expect(results.progress).toBeNull()
    expect(results.nextProgress).not.toBeNull()
    expect(results.isNextCurrent).toBe(false)
    await answerNext(site)
    expect(results.nextProgress).toBeNull()
    expect(results.next?.basis).toEqual(basisOf(site))
    expect(results.isNextCurrent).toBe(true)
  })

  it('tells how far it has come', async () => {
    const { site, engine, results, answer } = start()
    await answer(site)
    engine.open.find(({ name }) => name === 'next')!.onProgress!({ stage: 'weigh', fraction: 0.4 })
    expect(results.nextProgress).toEqual({ stage: 'weigh', fraction: 0.4 })
  })

  it('stays as it was after a change, and is not current until it is worked out anew', async () => {
    const { site, results, answer, answerNext } = start()
    await answer(site)
    await answerNext(site)
    const later = changed(site, 'later')
    results.refresh(later)
    expect(results.next?.basis).toEqual(basisOf(site))
    expect(results.isNextCurrent).toBe(false)
    await answer(later)
    expect(results.isCurrent).toBe(true)
    expect(results.isNextCurrent).toBe(false)
    await answerNext(later)
    expect(results.isNextCurrent).toBe(true)
  })

  it('is taken back with a change of the site: an answer to an older state is nobody’s', async () => {
    const { site, engine, results, answer, answerNext } = start()
    await answer(site)
    results.refresh(changed(site, 'later'))
    expect(openNames(engine)).not.toContain('next')
    expect(results.nextProgress).toBeNull()
    await answer(changed(site, 'later'))
    // an answer that was on its way when its question was taken back
    engine.cancel = () => undefined
    results.refresh(changed(site, 'last'))
    await answerNext(changed(site, 'later'))
    expect(results.next).toBeNull()
    expect(results.nextProgress).toBeNull()
  })

  it('stops alone once the ranking is there, and goes on without ranking again', async () => {
    const { site, engine, results, answer, answerNext } = start()
    await answer(site)
    results.cancel()
    await Promise.resolve()
    expect(openNames(engine)).not.toContain('next')
    expect(results.nextProgress).toBeNull()
    expect(results.isNextStopped).toBe(true)
    expect(results.isStopped).toBe(false)
    expect(results.isCurrent).toBe(true)
    engine.names.length = 0
    results.goOn()
    expect(engine.names).toEqual(['next'])
    expect(results.isNextStopped).toBe(false)
    await answerNext(site)
    expect(results.isNextCurrent).toBe(true)
  })

  it('stops with the ranking', () => {
    const { engine, results } = start()
    results.cancel()
    expect(results.isNextStopped).toBe(true)
    expect(engine.names).not.toContain('next')
  })

  it('is of no other site', async () => {
    const { site, results, answer, answerNext } = start()
    await answer(site)
    await answerNext(site)
    results.refresh({ ...site, id: '22222222-2222-4222-8222-222222222222' })
    expect(results.next).toBeNull()
    expect(results.isNextCurrent).toBe(false)
    results.refresh(null)
    expect(results.isNextCurrent).toBe(false)
  })

  it('is not asked where the ranking could not be worked out, and leaves no progress where it could not be itself', async () => {
    const { site, engine, results, answer } = start()
    engine.end('locate', { status: 'problem', problems: [] })
    await Promise.resolve()
    expect(engine.names).not.toContain('next')
    results.refresh(changed(site, 'later'))
    await answer(changed(site, 'later'))
    engine.end('next', { status: 'died' })
    await Promise.resolve()
    expect(results.nextProgress).toBeNull()
    expect(results.isNextCurrent).toBe(false)
  })
})
