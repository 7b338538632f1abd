import type { Belief } from './belief.ts'
import type { Scenario } from './generator/drawScenario.ts'
import { askToLocate, beliefOfAnswer, withExpectedFaults } from './methods/engine.ts'
import { halvedCandidates } from './methods/halving.ts'
import { independentGaussian } from './methods/independentGaussian.ts'
import { nearestToHighest } from './methods/nearestHighest.ts'
import { smallestConsistentSet } from './methods/passFail.ts'
import { priorOnly } from './methods/priorOnly.ts'
import { typedSite, type TypedSite } from './typedSite.ts'

/** Names of the methods, in the order of the tables. */
export const methodNames = {
  engine: 'this program',
  engineTold: 'this program, told how many bad joints to expect',
  ceiling: 'exact Bayes with the generator’s own figures',
  consistent: 'smallest consistent set',
  nearest: 'nearest to the highest reading',
  halving: 'half-splitting',
  gaussian: 'independent Gaussian Bayes',
  prior: 'rates alone',
} as const
export type MethodName = keyof typeof methodNames

/** Bad joints to expect of a scenario: 70 % of one to three. */
const expectedFaults = 1.4

/** Every method but the ceiling on one scenario; the program is told how many to expect only if asked for. */
export function believe(
  { site }: Scenario,
  withTold: boolean,
): {
  readonly typed: TypedSite
  readonly beliefs: Readonly<Partial<Record<MethodName, Belief>>>
} {
  const typed = typedSite(site)
  const told = () => beliefOfAnswer(typed, askToLocate(withExpectedFaults(typed, expectedFaults)))
  return {
    typed,
    beliefs: {
      engine: beliefOfAnswer(typed, askToLocate(site)),
      ...(withTold ? { engineTold: told() } : {}),
      consistent: smallestConsistentSet(typed),
      nearest: nearestToHighest(typed),
      halving: halvedCandidates(typed),
      gaussian: independentGaussian(typed),
      prior: priorOnly(typed),
    },
  }
}
