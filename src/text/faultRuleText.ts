import { unreachable } from '../base/assert.ts'
import { faultRules, type FaultRule, type RuleRefusal } from '../model/faultRules.ts'
import { sureNames } from './criteriaText.ts'
import { formatSeconds, inWords, type Units } from './units.ts'
import { wordsFor } from './words.ts'

/** What each rule of a fault answer is about, in a few words. */
const names: Readonly<Record<FaultRule, (earth: string) => string>> = {
  bodyAlternating: () => 'impedance of the body, alternating current',
  bodyDirect: () => 'resistance of the body, direct current',
  zonesAlternating: () => 'zones of effects, alternating current',
  zonesDirect: () => 'zones of effects, direct current',
  heartFactor: () => 'heart-current factor of a path',
  feetOnSurface: () => 'feet on the ground, with a surface layer',
  permittedIeee80Kg50: () => 'tolerable touch voltage, 50 kg',
  permittedIeee80Kg70: () => 'tolerable touch voltage, 70 kg',
  permittedStepIeee80Kg50: () => 'tolerable step voltage, 50 kg',
  permittedStepIeee80Kg70: () => 'tolerable step voltage, 70 kg',
  permittedStepEn50522: () => 'step voltage',
  permittedEn50522Of2010: () => 'permissible touch voltage, edition 2010',
  permittedEn50522Of2022: () => 'permissible touch voltage, edition 2022',
  permittedConventional: () => 'conventional limit for any length of time, dry places, adults',
  permittedConventionalHalf: () => 'conventional limit for children, livestock and wet places',
  fuseGates: () => 'gG fuse link, time-current gates',
  fuseConventional: () => 'gG fuse link, conventional currents',
  fusePv: () => 'gPV fuse link, conventional currents',
  breaker: () => 'circuit breaker of type B, C or D',
  residualGeneral: () => 'residual-current device, general type',
  residualSelective: () => 'residual-current device, selective type',
  residualTypeB: () => 'residual-current device of type B on direct current',
  residualBlindToDirect: () => 'residual-current device on smooth direct current',
  residualInverter: () => 'residual-current monitoring of an inverter',
  groundFaultFuse: (earth) => `fuse in the array’s functional ${earth}`,
  groundFaultBlindSpot: (earth) => `blind spot of the fuse in the array’s functional ${earth}`,
  insulationAtStart: () => 'insulation monitoring before start',
  insulationHidden: () => 'fault hidden from insulation monitoring',
  disconnectionTimes: () => 'longest time to disconnection, alternating current',
}

export function nameRule(rule: FaultRule, units: Units): string {
  return names[rule](wordsFor(units).earth)
}

/** Source, edition, clause, and how sure the figures are: `IEC 60269-1, 2006, Table 3 (read in a public copy)`. */
export function describeRuleSource(rule: FaultRule): string {
  const { source, edition, clause, sureness } = faultRules[rule]
  const cited = [source, edition, clause].filter((text) => text !== '').join(', ')
  return `${cited} (${sureNames[sureness]})`
}

/** Why a rule gives no number. */
export function describeRefusal(refusal: RuleRefusal): string {
  switch (refusal.refused) {
    case 'directCurrent':
      return 'It was made for alternating current and says nothing of direct current.'
    case 'alternatingCurrent':
      return 'It was made for direct current and says nothing of alternating current.'
    case 'tooShort':
      return `It begins at ${formatSeconds(refusal.leastS)}: of less it says nothing.`
    case 'tooLong':
      return `It ends at ${formatSeconds(refusal.mostS)}: of longer faults it says nothing.`
    case 'tooFewVolts':
      return `It asks for nothing up to ${refusal.aboveV} V.`
    case 'tooManyVolts':
      return `It ends at ${refusal.mostV} V.`
    case 'onlyTouch':
      return 'It has figures for touching only, none for steps.'
    case 'noRating':
      return 'The drawing has no rating for it. Enter the amperes that stand on the device.'
    case 'unknownCharacteristic':
      return `Its class is not one that is known here (${inWords(refusal.known)}). Enter the class that stands on the device.`
    default:
      return unreachable(refusal)
  }
}

/** Under every answer about a fault. */
export const faultCaution =
  'A teaching model: one operating point of one source, from what was drawn. It is no protection study and no proof that ' +
  'anybody comes to no harm. Product standards promise bands, single devices differ. Local code, the maker’s data and ' +
  'licensed persons decide.'
