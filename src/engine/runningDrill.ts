import type { Drill } from '../drill/drill.ts'
import type { DrillReading } from '../model/drill.ts'
import type { NetworkInput } from './requests.ts'

/** A drill, how its joints are counted, and what a sound array would have read each time. */
export interface RunningDrill {
  readonly drill: Drill
  readonly input: NetworkInput
  readonly expected: readonly Pick<DrillReading, 'expectedOhm' | 'spreadOhm'>[]
}
