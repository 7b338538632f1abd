import { portion } from '../base/portion.ts'
import type { JointSightAnswer } from '../model/planning.ts'
import type { CoverageTerms } from './coverage.ts'
import { describeHiddenJoint } from './hidden.ts'
import { isInReach, type PartPair } from './ownPairs.ts'
import { viewsIn } from './sightBook.ts'
import { canGoBad } from './sighting.ts'

export type JointSight = Pick<JointSightAnswer, 'isCounted' | 'seenBy' | 'hidden'>

/** Which of some pairs show a joint, by the number of its edge, and why none does. */
export function* jointSightOf(
  terms: CoverageTerms,
  pairs: readonly PartPair[],
  edge: number,
): Generator<number, JointSight> {
  const { sighting } = terms.book
  const { network } = sighting.prepared
  if (edge < 0 || !canGoBad(network, edge)) return { isCounted: false, seenBy: [], hidden: null }
  const views = yield* portion(viewsIn(terms.book, pairs), 0, 0.8)
  const seenBy = views.flatMap((view, pair) => {
    if (!isInReach(network, terms.reachable, view)) return []
    const k = view.edge.indexOf(edge)
    if (k < 0 || view.riseOhm[k] < view.leastRiseOhm) return []
    const byCriterion = view.criterionRiseOhm < Infinity && view.riseOhm[k] >= view.criterionRiseOhm
    return [{ pair, byCriterion, soundOhm: view.expectedOhm, badOhm: view.expectedOhm + view.riseOhm[k] }]
  })
  if (seenBy.length > 0) return { isCounted: true, seenBy, hidden: null }
  const hidden = yield* portion(describeHiddenJoint(terms, edge), 0.8, 0.2)
  return { isCounted: true, seenBy, hidden }
}
