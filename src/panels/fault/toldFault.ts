import type { FaultDesk } from '../../state/faultDesk.svelte.ts'
import type { ToldFault } from '../../text/faultFigures.ts'
import type { NameBook } from '../../text/places.ts'

/** The answer that is shown, with what was asked and how things are called; null while there is none. */
export function toldFault({ shown, shownInput }: FaultDesk, book: NameBook): ToldFault | null {
  return shown && shownInput ? { answer: shown, input: shownInput, book } : null
}
