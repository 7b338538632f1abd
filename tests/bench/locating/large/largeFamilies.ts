import type { RandomStream } from '../../../../src/base/random.ts'
import { twoWireKit } from '../../../generator/testKits.ts'
import type { Shape } from '../generator/drawDrawing.ts'
import type { Family } from '../generator/families.ts'

/** A family of sites of some thousands of joints. */
export interface LargeFamily extends Family {
  drawShape(random: RandomStream): Shape
}

const common = { kit: twoWireKit, withLoopClamp: false, contactsByLot: false } as const

export const largeFamilies: readonly LargeFamily[] = [
  {
    ...common,
    number: 21,
    name: 'large field, A',
    tie: 'oneEnd',
    mounting: 'fixed',
    drawShape: (random) => ({
      rows: 6,
      tables: 8,
      high: 2,
      across: 10,
      clampsPerFrame: 1 + random.integer(2),
      inSoil: random.uniform() < 0.5,
    }),
  },
  {
    ...common,
    number: 22,
    name: 'large tracker, A',
    tie: 'oneEnd',
    mounting: 'tracker',
    drawShape: (random) => ({
      rows: 12 + random.integer(5),
      tables: 12 + random.integer(5),
      high: 1,
      across: 8,
      clampsPerFrame: 1 + random.integer(2),
      inSoil: random.uniform() < 0.5,
    }),
  },
]
