import { addConductor } from '../../model/edits/conductors.ts'
import type { ConductorPoint } from '../../model/schema/equipment.ts'
import type { DrawContext, DrawDone, Making } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import type { PathPoint } from './pathMachine.ts'
import { pathTool } from './pathTool.ts'

/**
 * A conductor by taps: on a part it lands, with a lug or at an electrode with its clamp; elsewhere it only bends. A
 * ring ends at its first point.
 */
export const conductorTool = pathTool(
  ({ making }) => {
    const { closed } = making.conductor
    return { least: closed ? 3 : 2, most: null, closes: closed, lands: true }
  },
  (points, context) => drawn(points, context),
)

function drawn(points: readonly PathPoint[], { drawing, making }: DrawContext): DrawDone {
  const { material, areaMm2, size, closed } = making.conductor
  const edit = addConductor({
    label: nextLabel(drawing.conductors.map(({ label }) => label)),
    material,
    areaMm2,
    size,
    closed,
    points: points.map(({ atM, part }) => ({ atM, landing: part && landingOn(part.address, making) })),
    lengthM: null,
  })
  return { kind: 'edit', edit, what: { deed: 'drawItem', sort: 'conductor' }, choose: 'added' }
}

/** The joint that a conductor makes with a part: the clamp of an electrode (address G …), a lug elsewhere. */
export function landingOn(part: string, { conductor }: Making): ConductorPoint['landing'] {
  return { part, kind: part.startsWith('G') ? conductor.electrodeKind : conductor.lugKind }
}
