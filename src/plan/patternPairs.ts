import type { PlanPattern } from '../model/planning.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PartPair } from './ownPairs.ts'
import { layPattern } from './patterns/layPattern.ts'
import { pointsInOrder, reachableKinds } from './patterns/pointOrder.ts'

/** The pairs of a starting pattern over a whole site. A ladder takes both ends of a table, the others its middle. */
export function patternPairs(pattern: PlanPattern, index: SiteIndex, reachM: number): readonly PartPair[] {
  const places = pattern === 'ladder' ? 'ends' : 'middle'
  const stretches = pointsInOrder(index, reachableKinds(index.drawing), places)
  return layPattern(pattern, index, stretches, reachM).map(({ from, to }) => ({ a: from, b: to }))
}
