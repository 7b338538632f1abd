import type { Sight } from '../../model/planning.ts'

/** Draws the mark of a sight as the map does, into a canvas of 44 × 26 CSS pixels. */
export type DrawSight = (sight: Exclude<Sight, 'cannotFail'>, canvas: HTMLCanvasElement) => void
