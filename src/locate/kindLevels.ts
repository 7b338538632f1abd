import type { LocateAnswer } from '../model/answers.ts'
import { levelLnSd } from '../reading/assumptions.ts'
import type { LevelModel } from './levelModel.ts'
import { soilCellLnSd } from './levels.ts'
import type { OffsetsAndFit } from './offsets.ts'

type LearntLevel = LocateAnswer['levels'][number]

/** A level is told where the readings leave less than this of the spread that was assumed of it. */
const learntBelow = 0.9
const quantileZ = 1.645

/** Mean and standard deviation of z ~ N(0, 1) that adds a z to the readings: aᵀWρ and 1 − aᵀWa. */
function posteriorOfZ({ taken, precision, weighted }: OffsetsAndFit, shareOhm: (p: number) => number) {
  const m = taken.length
  const a = taken.map(shareOhm)
  let mean = 0
  let variance = 1
  for (let i = 0; i < m; i++) {
    mean += a[i] * weighted[i]
    for (let j = 0; j < m; j++) variance -= a[i] * precision[i * m + j] * a[j]
  }
  return { mean, sd: Math.sqrt(Math.max(0, variance)) }
}

/**
 * What the readings that are taken as they stand say, under the likeliest state of the site, of how far each kind of joint
 * lies from the catalogue as a whole, and the soil from its stated resistivity: factor and the 5 and 95 % points of it.
 * Only what they say something of. `soilOhm`: what the soil's level within its cell adds to each reading. O(kinds ×
 * readings²).
 */
export function learntLevels(
  kinds: readonly { readonly id: string }[],
  { lnSoil, byKind }: LevelModel,
  found: OffsetsAndFit,
  soilOhm: Float64Array,
  soilPriorLnSd: number,
): readonly LearntLevel[] {
  const level = (kind: string, middle: number, lnSd: number, priorLnSd: number): LearntLevel[] => {
    if (!(lnSd < learntBelow * priorLnSd)) return []
    const [low, high] = [-quantileZ, quantileZ].map((z) => Math.exp(middle + z * lnSd))
    return [{ kind, factor: Math.exp(middle), low, high }]
  }
  const ofKinds = kinds.flatMap(({ id }, k) => {
    if (id === 'earthPath') return []
    const spread = levelLnSd(id)
    const { mean, sd } = posteriorOfZ(found, (p) => byKind[p * kinds.length + k])
    return level(id, spread * mean, spread * sd, spread)
  })
  if (soilPriorLnSd === 0) return ofKinds
  const { mean, sd } = posteriorOfZ(found, (p) => soilOhm[p])
  return [...ofKinds, ...level('earthPath', lnSoil + soilCellLnSd * mean, soilCellLnSd * sd, soilCellLnSd)]
}
