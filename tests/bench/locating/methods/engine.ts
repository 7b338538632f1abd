import { assert, present } from '../../../../src/base/assert.ts'
import { run } from '../../../../src/engine/run.ts'
import { emptySiteCache } from '../../../../src/engine/siteCache.ts'
import type { LocateAnswer, SuspectGroup, SuspectJoint } from '../../../../src/model/answers.ts'
import type { Site } from '../../../../src/model/schema/site.ts'
import type { Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { priorWeights } from './priorOnly.ts'

/**
 * Asks as `headless locate` does. Null where it takes more than so many seconds of the processor; what other programs
 * do on the machine does not count.
 */
export function askWithin(site: Site, mostSeconds: number): LocateAnswer | null {
  const beganS = processorSeconds()
  const job = run('locate', { countIncidental: true, asBuilt: false }, site, emptySiteCache())
  for (let step = job.next(); ; step = job.next()) {
    if (step.done === true) {
      assert(step.value.ok, 'the site has problems')
      return step.value.value
    }
    if (processorSeconds() - beganS > mostSeconds) return null
  }
}

export const processorSeconds = (): number => process.cpuUsage().user / 1e6

/** The answer, however long it takes. */
export function askToLocate(site: Site): LocateAnswer {
  return present(askWithin(site, Infinity), 'an answer without a limit')
}

/** What of an answer makes the belief. */
type Stated = Pick<LocateAnswer, 'headline' | 'nothingBrokenProbability' | 'otherProbability'> & {
  readonly groups: readonly (Pick<SuspectGroup, 'jointCount' | 'probability'> & {
    readonly joints: readonly Pick<SuspectJoint, 'joint' | 'probability'>[]
  })[]
}

/**
 * The program's answer as a belief. Several joints may be bad: what it says of each joint, and of those that it does
 * not list, is scaled to add up to the chance that anything is bad, which stands for the one drawn by lot among them.
 * A group's own chance stays as it is. What is not listed, in groups of many joints and outside all groups, is spread
 * over the joints that are not named, as their catalogue rates have it.
 */
export function beliefOfAnswer(typed: TypedSite, answer: Stated): Belief {
  const joint = new Float64Array(typed.address.length)
  let unnamed = answer.otherProbability
  const groups = answer.groups.map((group) => {
    let named = 0
    const edges = group.joints.map(({ joint: address, probability }) => {
      const edge = typed.edgeOf.get(address)
      assert(edge !== undefined, `${address} is no joint of the network`)
      joint[edge] += probability
      named += probability
      return edge
    })
    if (group.jointCount > edges.length) unnamed += Math.max(0, group.probability - named)
    return { edges, probability: group.probability }
  })
  const spread = priorWeights(typed).map((w, e) => (joint[e] > 0 ? 0 : w))
  const spreadSum = spread.reduce((a, b) => a + b, 0)
  if (spreadSum > 0) for (let e = 0; e < joint.length; e++) joint[e] += (unnamed * spread[e]) / spreadSum
  const nothing = answer.nothingBrokenProbability
  const bad = joint.reduce((a, b) => a + b, 0)
  const scale = bad > 0 ? (1 - nothing) / bad : 0
  return {
    nothing,
    joint: joint.map((p) => p * scale),
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
