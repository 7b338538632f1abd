import type { CoverageInput, PlanKit } from '../model/planning.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import type { PairSource } from '../reading/pairReach.ts'
import { defaultKits } from '../model/kits.ts'
import { present } from '../base/assert.ts'
import type { CoverageTerms } from './coverage.ts'
import { finerTerms, readingTerms } from './readingTerms.ts'
import { openSightBook } from './sightBook.ts'
import { accessOf } from './sighting.ts'

/** What one question about a plan leaves for the next: what pairs show, per network, kit, lead and severity. */
export interface PlanCache {
  readonly networks: WeakMap<PreparedNetwork, Map<string, CoverageTerms>>
}

export function emptyPlanCache(): PlanCache {
  return { networks: new WeakMap() }
}

/** Kits and severities that are kept for one network. */
const mostKept = 4

/** What joints and pairs are held against; of the same question the same object, with what was worked out for it before. */
export function coverageTermsOf(
  cache: PlanCache,
  prepared: PreparedNetwork,
  source: PairSource,
  planKit: PlanKit,
  severity: CoverageInput['severity'],
): CoverageTerms {
  const known = cache.networks.get(prepared) ?? new Map<string, CoverageTerms>()
  cache.networks.set(prepared, known)
  const key = JSON.stringify([planKit, severity])
  const before = known.get(key)
  if (before) return before
  const { drawing } = prepared.network.index
  const fourWire = present(
    defaultKits.find(({ method }) => method === 'fourWire'),
    'a four-wire tester is among the instruments to start from',
  )
  const sighting = { prepared, source, severity }
  const terms: CoverageTerms = {
    with: planKit,
    kept: { reasons: null },
    book: openSightBook({ ...sighting, terms: readingTerms(planKit, drawing.facts.ambientC) }),
    finer: openSightBook({ ...sighting, terms: finerTerms(fourWire) }),
    reachable: { access: accessOf(drawing), reachM: planKit.reachM },
  }
  if (known.size >= mostKept) known.delete(present(known.keys().next().value, 'a kept question'))
  known.set(key, terms)
  return terms
}
