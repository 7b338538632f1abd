import { inWords } from './units.ts'
import { quoted } from './where.ts'

/** What is wrong with a typed quantity and what would be right, as a sentence under its field. */
export const dimensionTexts = {
  needed: 'A number is needed here.',
  notWhole: 'A whole number is needed here.',
  tooLarge: 'This is larger than can be worked with.',
  notANumber: (typed: string, units: readonly string[]) =>
    `${quoted(typed, 40)} is not a number${units.length === 0 ? '' : ` in ${either(units)}`}. ` +
    'Type digits, with a comma or a point as the decimal mark.',
  twoMarks: (typed: string) =>
    `${quoted(typed, 40)} has more than one comma or point. Type only the decimal mark.`,
  least: (least: string, isAllowed: boolean) =>
    isAllowed ? `It cannot be less than ${least}.` : `It has to be more than ${least}.`,
  /** Under a field: the units that are taken besides the one that is shown. */
  alsoTaken: (units: readonly string[]) => `also in ${either(units)}`,
} as const

function either(units: readonly string[]): string {
  return inWords(units).replace(' and ', ' or ')
}
