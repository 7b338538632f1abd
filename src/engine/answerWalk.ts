import { portion, staged } from '../base/portion.ts'
import { ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { WalkAnswer, WalkInput } from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { givenWalk, type DirectedPair, type GivenWalk } from '../walk/givenWalk.ts'
import type { Ground } from '../walk/ground/ground.ts'
import { layOutWalk } from '../walk/layOut.ts'
import { walkPathOf } from '../walk/walkPath.ts'
import { resolvePairs } from './answerCoverage.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import { groundOf, type SiteCache } from './siteCache.ts'

/** How one walks through pairs: set-ups, metres, minutes, and the way on the ground. */
export function* answerWalk(
  input: WalkInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<WalkAnswer, readonly Problem[]>> {
  const ground = yield* groundOf(site.drawing, cache)
  if (!ground.ok) return ground
  const { index } = ground.value
  const found = resolvePairs(index, input.pairs)
  if (!found.ok) return found
  // what is asked for by number is what can be walked to
  const numbers: number[] = []
  const pairs = found.value.flatMap(({ a, b }, pair): DirectedPair[] => {
    if (a === b || a >= index.remoteEarth || b >= index.remoteEarth) return []
    numbers.push(pair)
    return [{ from: a, to: b }]
  })
  const { walk, path, wayBoundM } = yield* staged('walk', walked(ground.value, pairs, input))
  const text = (part: number) => writePartAddress(partAddressAt(index, part))
  return ok({
    basis: basisOf(site),
    order: walk.order.map(({ pair, from, to, setUp }) => ({
      pair: numbers[pair],
      from: text(from),
      to: text(to),
      setUp,
    })),
    setUps: walk.setUps.map(({ at, pairs: count, wayM, minutes }) => ({
      at: text(at),
      pairs: count,
      wayM,
      minutes,
    })),
    wayM: walk.wayM,
    minutes: walk.minutes,
    wayBoundM,
    path,
  })
}

function* walked(
  ground: Ground,
  pairs: readonly DirectedPair[],
  { order, persons }: WalkInput,
): Generator<number, GivenWalk & { readonly wayBoundM: number | null }> {
  if (order === 'asGiven') return { ...(yield* givenWalk(ground, pairs, persons)), wayBoundM: null }
  const apart = pairs.map(({ from, to }) => ({ a: from, b: to }))
  const walk = yield* portion(layOutWalk(ground.index, apart, { persons, ground }), 0, 0.8)
  const path = yield* portion(walkPathOf(ground, walk), 0.8, 0.2)
  return { walk, path, wayBoundM: walk.wayBoundM }
}
