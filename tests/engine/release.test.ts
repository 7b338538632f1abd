import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { describe, expect, it } from 'vitest'
import { basisOf } from '../../src/engine/basis.ts'
import type { FromWorker, ToWorker } from '../../src/engine/protocol.ts'
import type { RequestName } from '../../src/engine/requests.ts'
import { workerCore } from '../../src/engine/workerCore.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { smallSite } from './smallSite.ts'

setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void

/**
 * The worker's core in the hand of a test. An index, a network and a factor hold the drawing that they were made from:
 * once a drawing is gone, so is everything of it.
 */
class Core {
  readonly told: FromWorker['kind'][] = []
  #turns: (() => void)[] = []
  #lastId = 0
  #clockMs = 0
  readonly #hear = workerCore({
    now: () => (this.#clockMs += 10),
    later: (turn) => void this.#turns.push(turn),
    post: ({ kind }) => void this.told.push(kind),
  })

  /** Opens a site of its own and asks about it; nobody but the core holds it then. */
  open(id: string): WeakRef<Drawing> {
    const site: Site = { ...structuredClone(smallSite()), id }
    this.hear({ kind: 'site', change: { form: 'whole', site } })
    this.#ask('locate', site)
    this.#ask('judge', site)
    return new WeakRef(site.drawing)
  }

  /** The drawing gets other facts and a revision, as an edit gives it: nothing of before holds for it. */
  edit(revision: string): void {
    const drawing = {
      facts: { value: structuredClone(smallSite().drawing.facts) },
      revision: { value: revision },
    }
    this.hear({ kind: 'site', change: { form: 'parts', name: 'edited', drawing, record: null } })
  }

  hear(message: ToWorker): void {
    this.#hear(message)
  }

  /** Works for so many turns, of one pause each; to the end where nothing is said. */
  work(turns = Infinity): void {
    for (let k = 0; k < turns && this.#turns.length > 0; k++) this.#turns.shift()!()
  }

  #ask(name: RequestName, site: Site): void {
    const input = { countIncidental: true, asBuilt: true }
    this.hear({ kind: 'ask', id: ++this.#lastId, basis: basisOf(site), name, input } as ToWorker)
  }
}

/** References are dropped at the end of a turn of the event loop at the earliest. */
async function isGone(drawing: WeakRef<Drawing>): Promise<boolean> {
  for (let round = 0; round < 5; round++) {
    await new Promise((resolve) => setTimeout(resolve))
    collect()
  }
  return drawing.deref() === undefined
}

const ids = ['00000000-0000-4000-8000-0000000000a1', '00000000-0000-4000-8000-0000000000a2']

describe('what was worked out from a site', () => {
  it('is kept while the site is open, and gone once it is closed', async () => {
    const core = new Core()
    const drawing = core.open(ids[0])
    core.work()
    expect(core.told.filter((kind) => kind === 'done')).toHaveLength(2)
    expect(await isGone(drawing)).toBe(false)
    core.hear({ kind: 'site', change: { form: 'closed' } })
    expect(await isGone(drawing)).toBe(true)
  })

  it('is gone when the site is closed half way through the work', async () => {
    for (const turns of [1, 3, 8]) {
      const core = new Core()
      const drawing = core.open(ids[0])
      core.work(turns)
      expect(core.told).not.toContain('done')
      core.hear({ kind: 'site', change: { form: 'closed' } })
      expect(core.told.filter((kind) => kind === 'cancelled')).toHaveLength(2)
      core.work()
      expect(await isGone(drawing)).toBe(true)
    }
  })

  it('is gone when another site takes its place', async () => {
    const core = new Core()
    const drawing = core.open(ids[0])
    core.work(6)
    const other = core.open(ids[1])
    core.work()
    expect(await isGone(drawing)).toBe(true)
    expect(await isGone(other)).toBe(false)
  })

  it('is gone with a drawing that an edit replaced, also where its work was stopped half way', async () => {
    const core = new Core()
    const drawing = core.open(ids[0])
    core.work(6)
    core.hear({ kind: 'cancel', id: 1 })
    core.hear({ kind: 'cancel', id: 2 })
    expect(await isGone(drawing)).toBe(false)
    core.edit('00000000-0000-4000-8000-00000000000c')
    expect(await isGone(drawing)).toBe(true)
  })
})
