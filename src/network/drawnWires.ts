import type { ConductorIndex } from '../layout/conductorIndex.ts'
import { distanceM, pathLengthM } from '../layout/path.ts'
import type { Conductor } from '../model/schema/equipment.ts'
import { conductorOhm } from './conductorOhm.ts'

/**
 * Two landings drawn at one place still have a lug's breadth of conductor between them. No wire counts as shorter
 * than this: zero ohms would join two nodes into one and leave nothing to solve for.
 */
export const leastWireM = 0.01

/**
 * Ohms of each wire of conductor number `c`, from part point pointStart[c] + k to the next at index k (of an open
 * conductor the last part point begins none). The drawn way between the landings gives the lengths; where the
 * total was measured, all are scaled to it. O(points).
 */
export function wireOhms(
  index: ConductorIndex,
  c: number,
  conductor: Conductor,
  temperatureC: number,
): Float64Array {
  const { material, areaMm2, closed, points } = conductor
  const first = index.pointStart[c]
  const stops = index.pointStart[c + 1] - first
  const lengths = new Float64Array(closed ? stops : stops - 1)
  for (let k = 0; k + 1 < stops; k++) {
    for (let i = index.place[first + k]; i < index.place[first + k + 1]; i++) {
      lengths[k] += distanceM(points[i].atM, points[i + 1].atM)
    }
  }
  if (closed) lengths[stops - 1] = distanceM(points[points.length - 1].atM, points[0].atM)
  const path = points.map(({ atM }) => atM)
  const drawnM = pathLengthM(path, closed)
  const totalM = conductor.lengthM ?? drawnM
  return lengths.map((lengthM) => {
    const shareM = drawnM > 0 ? (lengthM * totalM) / drawnM : totalM / lengths.length
    const wireM = Math.max(shareM, leastWireM)
    return conductorOhm({ materialId: material, areaMm2, lengthM: wireM, temperatureC })
  })
}
