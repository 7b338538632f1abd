import type { RandomStream } from '../../../../src/base/random.ts'
import type { Kit, Spot } from '../../../../src/model/schema/record.ts'
import { drawContact, drawPoorContact, drawSoundContact, poorRate } from '../../../generator/drawContact.ts'

/** Poor contacts are as frequent as this at most. */
const mostPoor = 0.9

/** As `drawContact`, with poor contacts so many times as frequent; four-wire clips are left as they are. */
export function drawContactAt(
  factor: number,
  method: Kit['method'],
  spots: readonly Spot[],
  isSecondTry: boolean,
  random: RandomStream,
): number {
  if (method !== 'twoWire') return drawContact(method, spots, isSecondTry, random)
  const isPoor = random.uniform() < Math.min(mostPoor, factor * poorRate(spots, isSecondTry))
  return drawSoundContact(random) + (isPoor ? drawPoorContact(random) : 0)
}
