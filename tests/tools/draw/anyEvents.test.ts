import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../../src/base/random.ts'
import { randomStream } from '../../../src/base/random.ts'
import { allDrawn } from '../../../src/model/drawnItem.ts'
import type { DrawHandle, Making } from '../../../src/tools/draw/drawTool.ts'
import { drawToolNames } from '../../../src/tools/draw/drawTool.ts'
import { toolOf } from '../../../src/tools/draw/tools.ts'
import { smallSite } from './drawSite.ts'
import { Hand, plainMaking } from './hand.ts'

const oneOf = <T>(random: RandomStream, options: readonly T[]): T => options[random.integer(options.length)]

function anyMaking(random: RandomStream): Making {
  return {
    ...plainMaking,
    tableType: oneOf(random, ['plain', 'plain', 'plain', null]),
    tables: oneOf(random, [null, null, 4]),
    equipment: oneOf(random, ['enclosure', 'earthBar']),
    electrode: oneOf(random, ['rod', 'plate', 'strip', 'ring']),
    conductor: { ...plainMaking.conductor, closed: random.integer(2) === 0 },
    ground: oneOf(random, ['aisle', 'obstacle']),
    block: { pitchM: oneOf(random, [null, null, 6]), copies: oneOf(random, [null, null, 2]) },
  }
}

/** A place, often one of those where something is. */
function anyPlace(random: RandomStream): readonly [number, number] {
  const marked = [
    [0, 0],
    [0.5, 1],
    [2.9, 7],
    [10.8, 2],
    [20, 1],
    [20, -5],
    [30, -5],
    [25, -8],
    [40, 10],
    [-5, 4],
  ]
  if (random.integer(3) > 0) return oneOf(random, marked) as [number, number]
  return [60 * random.uniform() - 10, 30 * random.uniform() - 10]
}

const anyHeld = (random: RandomStream) => ({
  isAdding: random.integer(5) === 0,
  isFree: random.integer(5) === 0,
  reachM: oneOf(random, [0.05, 0.3, 2]),
  handle: oneOf<DrawHandle | null>(random, [null, null, null, 'turn', 'rowEnd']),
})

/** One gesture as a mouse or a finger makes it, or one key. */
function anyGesture(random: RandomStream, hand: Hand<unknown>): void {
  const at = anyPlace(random)
  const held = anyHeld(random)
  switch (random.integer(10)) {
    case 0:
    case 1:
      return void hand.click(at, held)
    case 2:
    case 3:
    case 4:
      return void hand.tap(at, held)
    case 5:
    case 6:
      return void hand.drag(at, anyPlace(random), held)
    case 7:
      return void hand.pull(at, anyPlace(random), held).leave()
    case 8:
      return void hand.finish()
    default:
      return void (random.integer(2) === 0 ? hand.back() : hand.hover(at, held))
  }
}

describe.each(drawToolNames)('whatever is done with the tool %s', (name) => {
  it('throws nothing, leaves a site in order, makes one edit a gesture, and cancel gives it up', () => {
    const tool = toolOf(name)
    let edits = 0
    for (let seed = 1; seed <= 40; seed++) {
      const random = randomStream(seed)
      const change = { gridM: oneOf(random, [0, 0.5]), isBoxing: random.integer(2) === 0 }
      const hand = new Hand(tool, smallSite(), change)
      for (let k = 0; k < 12; k++) {
        if (random.integer(3) === 0) hand.making(anyMaking(random))
        const chosen = allDrawn(hand.site.drawing).filter(() => random.integer(4) === 0)
        if (random.integer(3) === 0 && hand.state === tool.idle) hand.choose(...chosen)
        const before = hand.edits
        anyGesture(random, hand)
        expect(hand.edits - before).toBeLessThanOrEqual(1)
      }
      edits += hand.edits
      const { site } = hand
      hand.cancel()
      expect(hand.state).toBe(tool.idle)
      expect(hand.preview).toBe(null)
      expect(hand.site).toBe(site)
    }
    if (name === 'distance') expect(edits).toBe(0)
    else expect(edits).toBeGreaterThan(15)
  })
})
