import { describe, expect, it } from 'vitest'
import { drawScenario } from '../generator/drawScenario.ts'
import { families } from '../generator/families.ts'
import { typedSite } from '../typedSite.ts'
import { askToLocate, beliefOfAnswer } from './engine.ts'

describe('an answer as a belief', () => {
  const { site } = drawScenario(families[0], 0x10000000 + 100_003)
  const typed = typedSite(site)
  const answer = askToLocate(site)
  const [first, second, third] = typed.address.filter((_, e) => typed.prepared.network.defectRate[e] > 0)
  const group = (
    probability: number,
    joints: readonly (readonly [string, number])[],
    jointCount = joints.length,
  ) => ({
    joints: joints.map(([joint, p]) => ({ joint, probability: p })),
    jointCount,
    probability,
  })
  const at = (joint: string) => typed.edgeOf.get(joint) ?? -1

  it('adds up to 1 whatever was answered', () => {
    const { nothing, joint, groups } = beliefOfAnswer(typed, answer)
    expect(nothing + joint.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9)
    expect(groups.map(({ probability }) => probability)).toEqual(
      answer.groups.map(({ probability }) => probability),
    )
  })

  it('draws one of several bad joints by lot and leaves the groups their chances', () => {
    const { joint, groups } = beliefOfAnswer(typed, {
      ...answer,
      nothingBrokenProbability: 0.01,
      otherProbability: 0,
      groups: [
        group(0.9, [[first, 0.9]]),
        group(0.9, [
          [second, 0.6],
          [third, 0.48],
        ]),
      ],
    })
    expect(joint[at(first)]).toBeCloseTo((0.99 * 0.9) / 1.98, 9)
    expect(joint[at(third)]).toBeCloseTo((0.99 * 0.48) / 1.98, 9)
    expect(groups.map(({ probability }) => probability)).toEqual([0.9, 0.9])
  })

  it('spreads what is not listed over the joints that are not named', () => {
    const { joint } = beliefOfAnswer(typed, {
      ...answer,
      nothingBrokenProbability: 0.2,
      otherProbability: 0.1,
      groups: [group(0.7, [[first, 0.3]], 60)],
    })
    expect(joint[at(first)]).toBeCloseTo(0.3, 9)
    expect(joint.reduce((a, b) => a + b, 0)).toBeCloseTo(0.8, 9)
  })
})
