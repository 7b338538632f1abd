import type { Rounds } from './rounds.ts'

/** What Chromium measured, or why it did not. */
export type ChromiumResult =
  | { readonly missing: string }
  | { readonly version: string; readonly peakMB: number | null; readonly rounds: Rounds }

/** One size of the growing field. */
export interface GrowthPoint {
  readonly times: Rounds
  readonly peakMB: number
  /** The most that objects and typed arrays held together after any stage, without garbage. */
  readonly heldMB: number
}
