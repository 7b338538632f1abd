import { parsePartAddress } from '../address.ts'
import { partExists } from '../presence.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Conductor } from '../schema/equipment.ts'

function exists(drawing: Drawing, part: string): boolean {
  const address = parsePartAddress(part)
  return address !== null && partExists(drawing, address)
}

function releaseLandings(drawing: Drawing): Drawing {
  const isLost = ({ landing }: Conductor['points'][number]) =>
    landing !== null && !exists(drawing, landing.part)
  if (!drawing.conductors.some((conductor) => conductor.points.some(isLost))) return drawing
  const conductors = drawing.conductors.map((conductor) => {
    if (!conductor.points.some(isLost)) return conductor
    const points = conductor.points.map((point) => (isLost(point) ? { ...point, landing: null } : point))
    return { ...conductor, points }
  })
  // A released landing may have been a part that another conductor lands on.
  return releaseLandings({ ...drawing, conductors })
}

/**
 * Lets go of parts that an edit has taken away: conductors stay where they are drawn but land there no more,
 * extra joints with a lost end go, a source loses its return. Only what the network is built from; plans,
 * record, differing joints and as-built differences keep their addresses. The same drawing when nothing is lost.
 */
export function releaseLost(drawing: Drawing): Drawing {
  let released = releaseLandings(drawing)
  const isWhole = ({ from, to }: Drawing['extraJoints'][number]) =>
    exists(released, from) && exists(released, to)
  if (!released.extraJoints.every(isWhole)) {
    released = { ...released, extraJoints: released.extraJoints.filter(isWhole) }
  }
  const isLost = (source: Drawing['sources'][number]) =>
    source.form === 'ac' && source.returnPart !== null && !exists(released, source.returnPart)
  if (released.sources.some(isLost)) {
    const sources = released.sources.map((source) =>
      source.form === 'ac' && isLost(source) ? { ...source, returnPart: null } : source,
    )
    released = { ...released, sources }
  }
  return released
}
