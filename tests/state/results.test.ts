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
  const answer = async (of: Site) => {
    const basis = basisOf(of)
    engine.end('locate', { status: 'done', basis, answer: { basis } as never })
    await Promise.resolve()
  }
  return { site, engine, results, answer }
}

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
    expect(engine.names).toEqual(['judge', 'locate'])
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
