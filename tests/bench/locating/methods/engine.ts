import { assert } from '../../../../src/base/assert.ts'
import { ask } from '../../../../src/headless/ask.ts'
import type { LocateAnswer } from '../../../../src/model/answers.ts'
import type { Site } from '../../../../src/model/schema/site.ts'
import type { Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { priorWeights } from './priorOnly.ts'

/** Asks as `headless locate` does. */
export function askToLocate(site: Site): LocateAnswer {
  const answer = ask('locate', { countIncidental: true, asBuilt: false }, site, 'benchmark')
  assert(answer.ok, 'the site has problems')
  return answer.value
}

/**
 * The program's answer as a belief. A group of more joints than are listed, and what is in no group, is spread
 * over the joints that are not named, as their catalogue rates have it.
 */
export function beliefOfAnswer(typed: TypedSite, answer: LocateAnswer): Belief {
  const joint = new Float64Array(typed.address.length)
  let unnamed = answer.otherProbability
  const groups = answer.groups.map((group) => {
    const edges = group.joints.map(({ joint: address, probability }) => {
      const edge = typed.edgeOf.get(address)
      assert(edge !== undefined, `${address} is no joint of the network`)
      joint[edge] += probability
      unnamed -= probability
      return edge
    })
    unnamed += group.probability
    return { edges, probability: group.probability }
  })
  if (unnamed > 1e-12) {
    const spread = priorWeights(typed).map((w, e) => (joint[e] > 0 ? 0 : w))
    const sum = spread.reduce((a, b) => a + b, 0)
    for (let e = 0; sum > 0 && e < joint.length; e++) joint[e] += (unnamed * spread[e]) / sum
  }
  return {
    nothing: answer.nothingBrokenProbability,
    joint,
    groups,
    callsHealthy: answer.headline === 'nothingBroken',
  }
}

/** The same site with a catalogue whose defect rates promise so many bad joints altogether. */
export function withExpectedFaults({ site, prepared }: TypedSite, expected: number): Site {
  const sum = prepared.network.defectRate.reduce((a, b) => a + b, 0)
  const jointKinds = site.drawing.jointKinds.map((kind) => ({
    ...kind,
    defectRate: Math.min(0.3, (kind.defectRate * expected) / sum),
  }))
  return { ...site, drawing: { ...site.drawing, jointKinds } }
}
