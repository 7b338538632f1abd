import type { Units } from './units.ts'
import { wordsFor } from './words.ts'

/** Under every answer: two sentences. */
export function shortCaution(): string {
  return (
    'An answer here is a lead for inspection, not proof of safety. Test dead and locked out; measure volts ' +
    'before ohms; qualified persons only, by local code and site procedures.'
  )
}

/** The full form, one item a line: before work begins, on the test sheet, in the help. */
export function fullCautions(units: Units): readonly string[] {
  const words = wordsFor(units)
  return [
    'Only qualified persons open, measure or change a bonding network.',
    'Test dead: isolate, lock out and tag, and prove it dead on a meter that was itself proved before and after.',
    'Modules in daylight stay live whatever is switched off: string conductors cannot be made dead by isolation alone.',
    `A frame that is not bonded may stand at string voltage to ${words.earth}. Measure volts, direct and alternating, ` +
      `between the two points before you measure ohms, and treat every frame as live until then.`,
    `Never take off a bond or an ${words.earthingConductor} while current may flow in it: put a temporary bond ` +
      `across it first.`,
    'An answer is computed from what was drawn and what was read. It is a lead for inspection, not proof of safety: ' +
      'joints that no reading can show stay unknown until someone looks at them.',
    'Local code, the manufacturer’s instructions and the procedures of the site come before anything written here.',
  ]
}
