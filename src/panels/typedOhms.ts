import { fail, ok, type Result } from '../base/result.ts'
import type { Kit, OhmOrOver } from '../model/schema/record.ts'
import { describeBeyondKit, entryTexts } from '../text/entryText.ts'
import { ohmUnit, parseQuantity } from '../ui/parseQuantity.ts'
import { quantityTroubleText } from '../ui/quantityText.ts'
import type { TypedUnit } from './pairDraft.svelte.ts'

const over = /^(?:over(?:[ -]?range)?|o\.?l\.?|>.*)$/i

/** Whether what was typed says by itself that the instrument showed no value. */
export function isTypedOver(text: string): boolean {
  return over.test(text.trim())
}

/** What was typed as the value of a reading with this instrument, a bare number in the unit given, or a sentence on what would be right. */
export function readTypedOhms(
  text: string,
  isOver: boolean,
  kit: Kit,
  unit: TypedUnit = 'Ω',
): Result<OhmOrOver, string> {
  if (isOver || isTypedOver(text)) return ok({ form: 'over', atLeastOhm: kit.mostOhm })
  const isBare = /^[\s\d.,+−-]+$/.test(text) && text.trim() !== ''
  const read = parseQuantity(isBare ? `${text.trim()} ${unit}` : text, ohmUnit)
  if (!read.ok)
    return fail(read.error.code === 'empty' ? entryTexts.needsOhms : quantityTroubleText(read.error, ohmUnit))
  if (read.value < 0) return fail(entryTexts.negative)
  if (read.value > kit.mostOhm) return fail(describeBeyondKit(kit))
  return ok({ form: 'ohm', ohm: read.value })
}
