import type { NetworkNote } from '../model/answers.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import { shortCaution } from '../text/cautions.ts'
import { describeNote, describeUncountedAsBuilt } from '../text/notes.ts'
import type { Page } from './page.ts'

/** What an answer rests on. */
export function writeNotes(
  page: Page,
  notes: readonly NetworkNote[],
  drawing: Drawing,
  asBuilt: boolean,
): void {
  const sentences = notes.map((note) => describeNote(note, drawing.facts.units))
  if (!asBuilt && drawing.asBuilt.length > 0) sentences.push(describeUncountedAsBuilt(drawing.asBuilt.length))
  if (sentences.length === 0) return
  page.title('What this rests on')
  for (const sentence of sentences) page.text(sentence, 1)
}

/** The last lines under everything that a person reads. */
export function writeCaution(page: Page): void {
  page.title('Before you touch anything')
  page.text(shortCaution())
}
