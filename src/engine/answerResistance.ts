import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { PathKind, ResistanceAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { Network } from '../network/compile.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { predictPair } from '../reading/pairPrediction.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { PairInput } from './requests.ts'
import { resolvePair, type Pair } from './resolvePart.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** What joins two parts: metal, soil only, or nothing. By graph search, whatever the ohms. */
export function pathBetween({ metal, electrical }: Network, { a, b }: Pair): PathKind {
  if (metal.islands.of[a] === metal.islands.of[b]) return 'metal'
  return electrical.islands.of[a] === electrical.islands.of[b] ? 'soilOnly' : 'none'
}

/** A prepared network and the two parts that were asked about. */
export interface AskedPair {
  readonly prepared: PreparedNetwork
  readonly pair: Pair
}

export function* askPair(
  input: PairInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<AskedPair, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return fail(prepared.error)
  const pair = resolvePair(prepared.value.network.index, input.from, input.to)
  return pair.ok ? ok({ prepared: prepared.value, pair: pair.value }) : pair
}

export function* resistanceOfPair(
  site: Site,
  { prepared, pair }: AskedPair,
): Generator<Progress, ResistanceAnswer> {
  const { network } = prepared
  const address = (part: number) => writePartAddress(partAddressAt(network.index, part))
  return {
    basis: basisOf(site),
    from: address(pair.a),
    to: address(pair.b),
    path: pathBetween(network, pair),
    ...(yield* staged('currents', portion(predictPair(prepared, pair.a, pair.b), 0, 0.5))),
    notes: network.notes,
  }
}

export function* answerResistance(
  input: PairInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<ResistanceAnswer, readonly Problem[]>> {
  const asked = yield* askPair(input, site, cache)
  return asked.ok ? ok(yield* resistanceOfPair(site, asked.value)) : asked
}
