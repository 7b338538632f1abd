import { unreachable } from '../base/assert.ts'
import type { FaultRule, RuleRefusal } from '../model/faultRules.ts'
import { describeRefusal, describeRuleSource, nameRule } from './faultRuleText.ts'
import { told, type Figure, type FigureText } from './figure.ts'
import { formatSeconds, type Units } from './units.ts'

/** A number that stands in a rule. */
export function ruleFigure(rule: FaultRule, value: string, how: string, units: Units): Figure {
  return {
    value,
    name: nameRule(rule, units),
    how,
    inputs: [{ name: 'Rule', value: nameRule(rule, units) }],
    rules: [describeRuleSource(rule)],
  }
}

/** Why a rule gives no number; the limits of the rule are figures of it. */
export function refusalText(refusal: RuleRefusal, rule: FaultRule, units: Units): FigureText {
  const limit = (value: string) => ruleFigure(rule, value, 'A limit of the rule itself.', units)
  switch (refusal.refused) {
    case 'tooShort':
      return told`It begins at ${limit(formatSeconds(refusal.leastS))}: of less it says nothing.`
    case 'tooLong':
      return told`It ends at ${limit(formatSeconds(refusal.mostS))}: of longer faults it says nothing.`
    case 'tooFewVolts':
      return told`It asks for nothing up to ${limit(`${refusal.aboveV} V`)}.`
    case 'tooManyVolts':
      return told`It ends at ${limit(`${refusal.mostV} V`)}.`
    case 'directCurrent':
    case 'alternatingCurrent':
    case 'onlyTouch':
    case 'noRating':
    case 'unknownCharacteristic':
      return [describeRefusal(refusal)]
    default:
      return unreachable(refusal)
  }
}
