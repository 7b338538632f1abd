import type { DeviceActs, InsulationSeen } from '../model/faultAnswers.ts'
import type { FaultRule } from '../model/faultRules.ts'
import { formatAmpere } from './criteriaText.ts'
import { describeRefusal, describeRuleSource, nameRule } from './faultRuleText.ts'
import { formatOhm } from './ohms.ts'
import { item, paragraph, type TextLine } from './sections.ts'
import { formatSeconds, type Units } from './units.ts'
import { printable } from './where.ts'
import { wordsFor } from './words.ts'

/** One or two words for a badge. */
export const verdictWords: Readonly<Record<DeviceActs['verdict'], string>> = {
  acts: 'acts',
  mayAct: 'may act, may not',
  never: 'NEVER ACTS',
  notCovered: 'not covered',
}

const carriesForEver =
  'It carries this current as long as it flows: less than what it must interrupt by its standard. Something else has to end it.'

/** What it means that a device never acts, where that is more than too little current. */
const neverBecause: Partial<Record<FaultRule, (earth: string) => string>> = {
  fuseGates: () => carriesForEver,
  fuseConventional: () => carriesForEver,
  breaker: () => carriesForEver,
  fusePv: () =>
    'A string limits its own current to little more than its short-circuit current, and its fuse is rated above that: only the current ' +
    'of other strings can blow it. The current flows as long as there is light.',
  residualBlindToDirect: () =>
    'Types AC, A and F do not see smooth direct current, however large; it may blind them to alternating current too.',
  groundFaultBlindSpot: (earth) =>
    `The blind spot: a fault near the ${earth}ed pole drives less than the fuse carries. It stays unnoticed, and a second ` +
    'fault then by-passes the fuse.',
  insulationHidden: (earth) =>
    `The monitor reads as if nothing were wrong: the metal that is live has no metal path to the ${earth} that it measures to. ` +
    'Bonding is what would have shown it.',
  residualInverter: () => 'It is below every level at which its standard asks an inverter to switch off.',
}

/** What a device does about a fault: a line that says it, then why, by which rule, from which source. */
export function describeDevice(name: string, acts: DeviceActs, units: Units): readonly TextLine[] {
  const because = describeBecause(acts, wordsFor(units).earth)
  return [
    paragraph(
      measuresOhms(acts)
        ? `${printable(name)}: ${describeVerdict(acts)}.`
        : `${printable(name)} sees ${formatAmpere(acts.seesA)}: ${describeVerdict(acts)}.`,
    ),
    ...(because === null ? [] : [item(because)]),
    item(`By: ${nameRule(acts.rule, units)}; ${describeRuleSource(acts.rule)}.`),
  ]
}

/** An insulation monitor: no current tells it anything. */
export function measuresOhms({ rule }: DeviceActs): boolean {
  return rule === 'insulationAtStart' || rule === 'insulationHidden'
}

function describeVerdict({ verdict, leastS, mostS }: DeviceActs): string {
  if (verdict === 'never') return 'it NEVER ACTS'
  if (verdict === 'notCovered') return 'the rules here do not cover it'
  const notBefore = leastS === null || leastS === 0 ? '' : `not before ${formatSeconds(leastS)}`
  if (verdict === 'mayAct')
    return `it may act and may not${notBefore === '' ? '' : `, ${notBefore}`}; do not count on it`
  if (mostS === null) return 'it alarms, or keeps the inverter from starting, and interrupts nothing'
  const within = `within ${formatSeconds(mostS)}`
  return `it acts ${notBefore === '' ? within : `${within}, ${notBefore}`}`
}

/** Why a device does not act or gives no answer; null where nothing is to be said. */
export function describeBecause({ verdict, rule, refusal }: DeviceActs, earth: string): string | null {
  if (refusal !== null) return describeRefusal(refusal)
  if (verdict !== 'never') return null
  return neverBecause[rule]?.(earth) ?? 'It sees less than what makes it act.'
}

/** What insulation monitoring reads with the fault in place. */
export function describeInsulation(seen: InsulationSeen, units: Units): string {
  const { readsOhm, alarmBelowOhm, alarms, isHidden } = seen
  const reads =
    readsOhm === Infinity
      ? 'Insulation monitoring reads no path at all'
      : `Insulation monitoring reads ${formatOhm(readsOhm)}`
  const level = `it alarms below ${formatOhm(alarmBelowOhm)}`
  if (alarms) return `${reads}; ${level}: it alarms.`
  if (!isHidden) return `${reads}; ${level}: no alarm.`
  return (
    `${reads}; ${level}: NO ALARM, although there is a fault. The metal that is live has no metal path to ` +
    `${wordsFor(units).earth}, so the fault is hidden.`
  )
}
