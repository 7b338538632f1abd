import type { PreparedNetwork } from '../../network/prepare.ts'
import type { Candidates, LevelModel } from '../levelModel.ts'
import { bookAt, type LocateCache } from '../locateCache.ts'
import { setNetworkOf, type FactoredLevel, type NodePair, type SetNetwork } from './setNetwork.ts'

/** The network of a site at the soil levels of its models, as sets of candidates need it. Yields the fraction done. */
export function* openSetNetwork(
  prepared: PreparedNetwork,
  cache: LocateCache,
  models: readonly LevelModel[],
  candidates: Candidates,
  pairs: readonly NodePair[],
): Generator<number, SetNetwork> {
  const levels: FactoredLevel[] = []
  for (const { lnSoil } of models) {
    const { source, loopS } = yield* bookAt(cache, prepared, lnSoil)
    levels.push({ factor: source.factor, conductanceS: source.conductanceS, loopS })
  }
  const { graph, adjacency } = prepared.network
  return yield* setNetworkOf(graph, adjacency, levels, candidates.edge, pairs)
}
