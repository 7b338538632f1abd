import type { Spot } from '../model/schema/record.ts'

/** Where a clip sits, chosen for one part; for another part it means nothing. */
export type Clip = Spot

/** What is being typed of a reading: it outlives the panel, so that a look at another panel loses nothing. */
export class PairDraft {
  /** As typed, whether or not it can be read. */
  ohms = $state('')
  isOver = $state(false)
  /** Entry that the reading repeats. */
  repeats = $state<string | null>(null)
  kit = $state<string | null>(null)
  lead = $state<string | null>(null)
  fromText = $state('')
  toText = $state('')
  fromClip = $state.raw<Clip | null>(null)
  toClip = $state.raw<Clip | null>(null)

  /** After a reading was entered: its value goes, the instrument and the leads stay. */
  clearValue(): void {
    this.ohms = ''
    this.isOver = false
    this.repeats = null
  }
}
