import type { Drill } from '../drill/drill.ts'
import type { LocateCache } from '../locate/locateCache.ts'
import type { DrillReading, DrillStartInput, DrillTold } from '../model/drill.ts'

/** A drill, how it was begun, what a sound array would have read each time, and what was told when asked. */
export interface RunningDrill {
  readonly drill: Drill
  readonly input: DrillStartInput
  readonly expected: readonly Pick<DrillReading, 'expectedOhm' | 'spreadOhm'>[]
  readonly told: DrillTold
  /** What one answer leaves for the next: the readings of the drill are none of the site's. */
  readonly locate: LocateCache
}
