import type { PointM } from './schema/primitives.ts'

/**
 * The walk of a plan as it lies on the ground, for drawing: one entry per set-up, in walking order. Lines are numbers
 * x y x y … in plan metres; an empty one is no line.
 */
export interface WalkPath {
  readonly setUps: readonly SetUpPath[]
}

export interface SetUpPath {
  /** The part that the first clip stays on. */
  readonly clipM: PointM
  /** On foot from the first clip of the set-up before; empty for the first one. */
  readonly approachM: Float64Array
  /** On foot from the first clip to all far ends and back. */
  readonly roundM: Float64Array
  /** The far ends in walking order, as points: x y x y … */
  readonly farM: Float64Array
}
