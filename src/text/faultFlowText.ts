import type { FaultAnswer, FaultPort, LimitedBy } from '../model/faultAnswers.ts'
import { formatOhm, formatVolt } from './ohms.ts'
import type { Units } from './units.ts'
import { wordsFor } from './words.ts'

/** What limits the current of a fault, and what that means for a bad bond. */
export function describeLimit(limitedBy: LimitedBy, units: Units): string {
  const { earth, earthed } = wordsFor(units)
  switch (limitedBy) {
    case 'sourceCurrent':
      return (
        'The source gives no more current, whatever its way: a bond with some ohms more changes the volts of the ' +
        'metal, and hardly the current.'
      )
    case 'resistance':
      return 'The ohms of its way limit the current: a raised bond lessens it, and a device acts later for it, if at all.'
    case 'insulation':
      return (
        `No more than insulation leads comes back: the source is not ${earthed}. A first fault drives no current to ` +
        'speak of; a second one would.'
      )
    case 'noPath':
      return (
        'Nothing leads the current back: what the fault touches is not bonded. It carries no current, it shows ' +
        'nothing to any fuse, and it stands at the volts of the fault point.'
      )
    case 'noVoltage':
      return (
        `The fault point has no volts against where the source is ${earthed}: no current, and nothing notices. A ` +
        `second fault would by-pass what leads to ${earth}.`
      )
  }
}

const roleNames: Readonly<Record<FaultPort['role'], (earthed: string) => string>> = {
  fault: () => 'the fault',
  second: () => 'the second fault',
  earthing: (earthed) => `where the source is ${earthed}`,
  insulation: () => 'insulation of a pole',
  return: () => 'return of the source',
}

/** Where a circuit meets the network. */
export function nameFaultRole(role: FaultPort['role'], units: Units): string {
  return roleNames[role](wordsFor(units).earthed)
}

/** Amperes with three figures and their sign, from insulation to arrays: `−8.81 µA`, `0.98 mA`, `2.79 kA`. */
export function formatFaultAmpere(ampere: number): string {
  return formatOhm(ampere).replace('Ω', 'A')
}

/** The numbers of an answer, name and value, in the order in which they explain each other. */
export function faultFacts(answer: FaultAnswer, units: Units): readonly (readonly [string, string])[] {
  const { remoteEarth, earthed } = wordsFor(units)
  const to = answer.voltsTo === 'remoteEarth' ? remoteEarth : `where the source is ${earthed}`
  const facts: (readonly [string, string])[] = [
    ['Current of the fault', formatFaultAmpere(answer.faultA)],
    ['Fault point without a load', formatVolt(answer.openV)],
    ['Fault point with the fault', formatVolt(answer.sourceV)],
    ['Bond network on its way', formatOhm(answer.networkOhm)],
    [`The part, to ${to}`, formatVolt(answer.faultV)],
    ['Through soil', formatFaultAmpere(answer.throughEarthA)],
  ]
  if (answer.backFeedA > 0) facts.push(['Pushed back by other strings', formatFaultAmpere(answer.backFeedA)])
  if (answer.capacitance) {
    const { joule, leakageA } = answer.capacitance
    if (joule > 0) facts.push(['Charge of the array gives', `${Number(joule.toPrecision(2))} J at once`])
    if (leakageA > 0) facts.push(['Leakage while running', formatFaultAmpere(leakageA)])
  }
  return facts
}
