import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { EngineClient } from '../../src/engine/client.ts'
import { FaultDesk } from '../../src/state/faultDesk.svelte.ts'
import { firstPerson, firstSetup, type FaultSetup } from '../../src/state/faultSetup.ts'
import { FaultShelf } from '../../src/state/faultShelf.ts'
import { fitFault, nothingKept, soundFault, type KeptFault } from '../../src/state/keptFault.ts'
import type { Session } from '../../src/state/session.svelte.ts'
import { describeDropped } from '../../src/text/keptFaultText.ts'
import { shippedLessons } from '../../src/text/lessons/shippedLessons.ts'
import { demoIndex } from '../canvas/demoIndex.ts'

const index = demoIndex('field')
const key = 'groundweave-faults'

function memory(kept: Record<string, string> = {}) {
  return {
    kept,
    getItem: (name: string) => kept[name] ?? null,
    setItem: (name: string, value: string) => void (kept[name] = value),
  }
}

/** Everything is chosen, and all of it is drawn. */
const full: KeptFault = {
  setup: {
    at: 'R3/T1/F2.5',
    source: index.drawing.sources[0].id,
    moduleFromNegative: 7,
    earthed: { part: 'B1' },
    earthingOhm: 12.5,
    second: { part: 'R4/T2/F1.1', moduleFromNegative: 3, sameString: false },
    insulationOhm: 4e5,
    capacitanceF: 2e-6,
    light: 0.4,
    conductorOhm: 0.3,
    countIncidental: false,
    altered: [
      { joint: 'R3/T1+T2~1', ohm: null },
      { joint: 'R4/T6+T7~1', ohm: 0.2 },
    ],
    person: {
      hand: 'R3/T1/F2.5',
      other: 'B1',
      surface: { ohmM: 3000, thicknessM: 0.1 },
      shoeOhm: 4000,
      isWet: true,
      armReachM: 2.5,
    },
  },
  watched: [{ from: 'R3/T1/F2.5', to: 'earth' }],
  showsChange: false,
  isPaused: true,
  showsGround: true,
  place: { atM: { x: 3, y: -2.5 } },
}
const withSetup = (change: Partial<FaultSetup>): KeptFault => ({
  ...full,
  setup: { ...full.setup, ...change },
})

describe('the fault of a site on this device', () => {
  it('is there again, whole, each site’s own', () => {
    const store = memory()
    const other = withSetup({ at: 'R1/T1/F1.1' })
    new FaultShelf(store).put('a', full)
    new FaultShelf(store).put('b', other)
    expect(new FaultShelf(store).get('a')).toEqual(full)
    expect(new FaultShelf(store).get('b')).toEqual(other)
    expect(new FaultShelf(store).get('c')).toBeNull()
  })

  it('that was kept before the ground was, is there with its ground not shown', () => {
    const { showsGround: _, place: __, ...older } = full
    const store = memory({ [key]: JSON.stringify([{ site: 'a', fault: older }]) })
    expect(new FaultShelf(store).get('a')).toEqual({ ...full, showsGround: false, place: null })
  })

  it('is forgotten where it is as it began', () => {
    const store = memory()
    const shelf = new FaultShelf(store)
    shelf.put('a', full)
    shelf.put('b', full)
    shelf.put('a', nothingKept)
    expect(shelf.get('a')).toBeNull()
    expect(store.kept[key]).not.toContain('"site":"a"')
    expect(shelf.get('b')).toEqual(full)
  })

  it('is let go of the site that was changed longest ago', () => {
    const shelf = new FaultShelf(memory())
    for (let n = 0; n < 31; n++) shelf.put(`site ${n}`, full)
    expect(shelf.get('site 0')).toBeNull()
    expect(shelf.get('site 1')).toEqual(full)
    shelf.put('site 1', withSetup({ light: 1 }))
    shelf.put('another', full)
    expect(shelf.get('site 1')).not.toBeNull()
    expect(shelf.get('site 2')).toBeNull()
  })

  it.each([
    'no JSON',
    '{}',
    'null',
    '[null, 3, "x"]',
    '[{"site":"a"}]',
    '[{"site":"a","fault":{"setup":{"at":3}}}]',
    JSON.stringify([{ site: 'a', fault: withSetup({ light: -1 }) }]),
    JSON.stringify([{ site: 'a', fault: { ...full, watched: 'all' } }]),
    JSON.stringify([{ site: 'a', fault: { ...full, place: { atM: { x: 'far', y: 0 } } } }]),
  ])('is nothing where %s stands, and another is kept all the same', (text) => {
    const shelf = new FaultShelf(memory({ [key]: text }))
    expect(shelf.get('a')).toBeNull()
    shelf.put('a', full)
    expect(shelf.get('a')).toEqual(full)
  })

  it('is nothing whatever else stands there', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (found) => {
        expect(soundFault(found)).toBeNull()
      }),
      { seed: 31 },
    )
  })

  it('lives for the page where the device takes or gives nothing', () => {
    const blocked = {
      getItem: () => {
        throw new Error('blocked')
      },
      setItem: () => {
        throw new Error('full')
      },
    }
    for (const shelf of [new FaultShelf(null), new FaultShelf(blocked)]) {
      expect(() => shelf.put('a', full)).not.toThrow()
      expect(shelf.get('a')).toBeNull()
    }
  })
})

describe('a kept fault on the drawing of now', () => {
  it('is as it was where everything is still drawn', () => {
    expect(fitFault(full, index)).toEqual({ kept: full, dropped: [] })
    expect(fitFault({ ...nothingKept, setup: firstSetup }, index).dropped).toEqual([])
  })

  const gone = 'R99/T1/F1.1'
  it.each<[string, Partial<FaultSetup>, Partial<FaultSetup>]>([
    ['at', { at: gone }, { at: null }],
    ['source', { source: 'gone' }, { source: null }],
    ['earthed', { earthed: { part: 'B99' } }, { earthed: 'bar' }],
    ['second', { second: { part: gone, moduleFromNegative: 0, sameString: true } }, { second: null }],
    ['hand', { person: { ...firstPerson, hand: gone, other: 'B1' } }, { person: null }],
    [
      'other',
      { person: { ...firstPerson, hand: 'B1', other: gone } },
      { person: { ...firstPerson, hand: 'B1', other: null } },
    ],
    [
      'altered',
      { altered: [...full.setup.altered, { joint: 'R99/T1+T2~1', ohm: 3 }] },
      { altered: full.setup.altered },
    ],
  ])('leaves out what is gone, %s, keeps the rest, and says so', (what, before, after) => {
    const { kept, dropped } = fitFault(withSetup(before), index)
    expect(kept).toEqual(withSetup(after))
    expect(dropped.map((each) => each.what)).toEqual([what])
    expect(describeDropped(dropped)).toContain(dropped[0].address)
    expect(describeDropped(dropped)).toMatch(/no longer in the drawing and was left out/)
  })

  it('leaves out a place on the ground that is beside what is gone', () => {
    const { kept, dropped } = fitFault({ ...full, place: { besidePart: gone } }, index)
    expect(kept).toEqual({ ...full, place: null })
    expect(describeDropped(dropped)).toContain(gone)
    const beside = { ...full, place: { besidePart: 'B1' } }
    expect(fitFault(beside, index)).toEqual({ kept: beside, dropped: [] })
  })

  it('leaves out watched pairs of which one is gone', () => {
    const watched = [...full.watched, { from: 'B1', to: gone }]
    const { kept, dropped } = fitFault({ ...full, watched }, index)
    expect(kept.watched).toEqual(full.watched)
    expect(dropped).toHaveLength(1)
  })
})

describe('the fault that is kept', () => {
  const { fault } = Object.values(shippedLessons[0].setups)[0]
  const desk = () => {
    const made = new FaultDesk({ site: null, index } as Session, {} as EngineClient)
    made.take(full)
    return made
  }

  it('is all that was taken up, the ground too', () => {
    expect(desk().kept).toEqual(full)
    expect(desk().ground.isOn).toBe(true)
    expect(desk().ground.place).toEqual(full.place)
  })

  it.each([true, false])(
    'stays as it was chosen while a lesson shows its own, the ground %s',
    (hasGround) => {
      const own = desk()
      own.mapShows = 'losses'
      own.show(fault, hasGround)
      expect(own.kept).toEqual(full)
      expect([own.ground.isOn, own.ground.place]).toEqual([hasGround, null])
      expect([own.showsChange, own.mapShows]).toEqual([true, 'current'])
      own.show(null)
      expect(own.kept).toEqual(full)
      expect([own.ground.isOn, own.ground.place]).toEqual([true, full.place])
      expect([own.showsChange, own.mapShows]).toEqual([false, 'losses'])
    },
  )

  it('is cleared and brought back with its ground', () => {
    const own = desk()
    own.clear()
    expect(own.kept).toEqual({ ...nothingKept, isPaused: true })
    own.bringBack()
    expect(own.kept).toEqual(full)
  })
})
