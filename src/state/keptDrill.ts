import type { DrillAnswer, DrillResumeInput, DrillStartInput } from '../model/drill.ts'
import { keptDrillSchema } from '../model/schema/keptDrill.ts'
import type { KeyValues } from './preferences.svelte.ts'

const key = 'groundweave-drill'

/** A drill that was left before it was over, and the site that it is on. */
export interface KeptDrill extends DrillResumeInput {
  readonly site: string
}

/** The drill of a site as it stands; the seed and the trainer's joint are in it, for nobody to look at before it is over. */
export function drillToKeep(
  site: string,
  start: DrillStartInput,
  { nullings, readings, called, asked }: DrillAnswer,
): KeptDrill {
  const seen = readings.map(({ from, to, how, nullings, result }) => ({ from, to, how, nullings, result }))
  return { site, start, stood: { nullings, readings: seen, called, asked } }
}

/** Null where none was kept, or what is there is none. */
export function readKeptDrill(store: KeyValues | null): KeptDrill | null {
  try {
    const found = keptDrillSchema.safeParse(JSON.parse(store?.getItem(key) ?? 'null'))
    return found.success ? found.data : null
  } catch {
    return null
  }
}

/** Keeps the drill on this device; null: none. */
export function keepDrillHere(store: KeyValues | null, drill: KeptDrill | null): void {
  try {
    store?.setItem(key, JSON.stringify(drill))
  } catch {
    // a full or blocked store: the drill holds until the page is closed
  }
}
