import { present } from '../../src/base/assert.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { Spot } from '../../src/model/schema/record.ts'

/** Where a careful tester puts the clip: steel on a cut edge, an anodised frame pierced, a bar on its stud. */
export function spotOn(part: string): Spot {
  const address = present(parsePartAddress(part), `${part} is no part address`)
  if (address.at !== 'table') return { part, spot: 'stud', surface: 'bare' }
  return address.part.of === 'frame'
    ? { part, spot: 'face', surface: 'pierced' }
    : { part, spot: 'cutEdge', surface: 'bare' }
}
