import { distanceM, pathLengthM } from '../../layout/path.ts'
import type { Told } from '../../model/drawDeed.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { bearingDegOf } from './bearing.ts'
import type { DrawContext, DrawEvent, DrawPreview, DrawStep, DrawTool } from './drawTool.ts'
import type { PathRules, PathState } from './pathMachine.ts'
import { idlePath, movePath, ownsPathDrag } from './pathMachine.ts'
import { previewOf, showing } from './preview.ts'

/** `measured`: a way that has ended stays in sight until the next one begins. */
export type DistanceState =
  | { readonly phase: 'idle' }
  | { readonly phase: 'going'; readonly path: PathState }
  | { readonly phase: 'measured'; readonly points: readonly PointM[] }

const idle: DistanceState = { phase: 'idle' }
const rules: PathRules = { least: 2, most: null, closes: false, lands: false }

/** How far it is: leg by leg by taps or drags, with the bearing of the last leg and all legs together. No edit. */
export const distanceTool: DrawTool<DistanceState> = {
  idle,
  owns: (state, at) => ownsPathDrag(pathOf(state), at, rules),
  step,
}

function pathOf(state: DistanceState): PathState {
  return state.phase === 'going' ? state.path : idlePath
}

function step(state: DistanceState, event: DrawEvent, context: DrawContext): DrawStep<DistanceState> {
  const isOnlyLooking = event.kind === 'hover' || event.kind === 'leave' || event.kind === 'finish'
  if (state.phase === 'measured' && isOnlyLooking) return showing(state, measured(state.points))
  const { state: path, preview, ended } = movePath(pathOf(state), event, context, rules)
  if (ended) {
    const points = ended.map(({ atM }) => atM)
    return showing({ phase: 'measured', points }, measured(points))
  }
  const line = preview?.lines[0]
  const told = line ? distanceTold(line) : (preview?.told ?? null)
  return showing(path === idlePath ? idle : { phase: 'going', path }, preview && { ...preview, told })
}

function measured(points: readonly PointM[]): DrawPreview {
  return previewOf({ lines: [points], points, told: distanceTold(points) })
}

function distanceTold(points: readonly PointM[]): Told {
  const [from, to] = points.slice(-2)
  return {
    fact: 'distance',
    lengthM: distanceM(from, to),
    bearingDeg: bearingDegOf(from, to),
    totalM: pathLengthM(points, false),
  }
}
