import { assert } from '../base/assert.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { straightStops, type Stops } from './tour/stops.ts'

/** Where a walker stands to reach each of some parts, and the ways between. */
export function stopsOfParts(index: SiteIndex, parts: Int32Array): Stops {
  const at = Array.from(parts, (part) => {
    const atM = partPositionM(index, part)
    assert(atM !== null, `part ${part} cannot be walked to`)
    return atM
  })
  return straightStops(
    Float64Array.from(at, ({ x }) => x),
    Float64Array.from(at, ({ y }) => y),
  )
}
