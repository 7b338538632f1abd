import type { Drawing } from '../model/schema/drawing.ts'
import type { Making } from '../tools/draw/drawTool.ts'

/** What new things are made of before anyone chose otherwise: judgement from common practice, all of it editable. */
export const firstMaking: Making = {
  tableType: null,
  gapM: 0.5,
  links: { count: 1, kind: 'jumper' },
  tables: null,
  equipment: 'enclosure',
  enclosure: { widthM: 1.2, depthM: 0.6, bearingDeg: 0 },
  electrode: 'rod',
  rod: { lengthM: 2.4, diameterM: 0.016 },
  plate: { areaM2: 0.5, depthM: 1 },
  strip: { diameterM: 0.01, depthM: 0.6 },
  conductor: {
    material: 'copper',
    areaMm2: 16,
    size: 'mm2-16',
    closed: false,
    lugKind: 'crimpLug',
    electrodeKind: 'rodClamp',
  },
  ground: 'aisle',
  extraJointKind: 'jumper',
  block: { pitchM: null, copies: null },
}

/** The choices with what the drawing has: a type and kinds that are there. */
export function makingFor(making: Making, drawing: Drawing): Making {
  const { tableTypes, jointKinds } = drawing
  const type = tableTypes.find(({ id }) => id === making.tableType) ?? tableTypes.at(-1)
  const kindOf = (id: string) =>
    (jointKinds.find((kind) => kind.id === id) ?? jointKinds.find(({ medianOhm }) => medianOhm !== null))
      ?.id ?? id
  return {
    ...making,
    tableType: type?.id ?? null,
    links: { ...making.links, kind: kindOf(making.links.kind) },
    conductor: {
      ...making.conductor,
      lugKind: kindOf(making.conductor.lugKind),
      electrodeKind: kindOf(making.conductor.electrodeKind),
    },
    extraJointKind: kindOf(making.extraJointKind),
  }
}

const gridLadder = {
  metric: [0.1, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100],
  us: [0.5, 1, 2, 5, 10, 20, 50, 100, 200],
}
const footM = 0.3048
/** Lines of the grid come no nearer than this on the screen. */
const leastGridPx = 6

/** Width of the grid at a zoom, in metres: a round number of metres, or of feet. */
export function gridFor(pxPerM: number, units: 'metric' | 'us'): number {
  const unitM = units === 'us' ? footM : 1
  const ladder = gridLadder[units]
  return (ladder.find((step) => step * unitM * pxPerM >= leastGridPx) ?? ladder[ladder.length - 1]) * unitM
}
