import type { FaultDesk } from '../../state/faultDesk.svelte.ts'
import type { ToldFault } from '../../text/faultFigures.ts'
import type { ToldGround } from '../../text/faultGroundText.ts'
import type { NameBook } from '../../text/places.ts'

/** The answer that is shown, with what was asked and how things are called; null while there is none. */
export function toldFault({ shown, shownInput }: FaultDesk, book: NameBook): ToldFault | null {
  return shown && shownInput ? { answer: shown, input: shownInput, book } : null
}

/** What is told of the ground in that fault, of now or of before the last change; null while nothing is. */
export function toldGround({ ground: { told } }: FaultDesk, fault: ToldFault): ToldGround | null {
  return told && { fault, answer: told.answer, input: told.input }
}
