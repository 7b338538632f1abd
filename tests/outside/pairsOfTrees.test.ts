import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { choosePairs } from '../../src/plan/choose/choosePairs.ts'
import { treeInstance } from '../plan/choose/instances.ts'

/*
 * Counting arguments that need no program, for pairs between any two parts and readings that show every joint between:
 *
 * - a tree with ℓ leaves is shown by ⌈ℓ/2⌉ pairs and no fewer: each pair has two ends, and the joint at a leaf is shown
 *   only by pairs that end there; that many suffice, as leaves can be paired across a centroid (a path cover of a tree's
 *   edges: common knowledge of graph theory)
 * - the n joints of a run are told apart by ⌈(n + 1)/2⌉ pairs and no fewer: of its n + 1 parts each must be an end, as
 *   the two joints beside it (the joint and nothing, at the ends) are otherwise shown by the same pairs
 */
describe('trees', () => {
  it('are shown by half as many pairs as they have leaves', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(), { minLength: 1, maxLength: 22 }), (numbers) => {
        const parents = numbers.map((number, e) => number % (e + 1))
        const degree = new Int32Array(parents.length + 1)
        parents.forEach((parent, e) => {
          degree[parent]++
          degree[e + 1]++
        })
        const leaves = degree.filter((d) => d === 1).length
        const { chosen, bound } = wholly(choosePairs(treeInstance(parents), 0, 0))
        expect(chosen).toHaveLength(Math.ceil(leaves / 2))
        expect(bound.pairs).toBe(Math.ceil(leaves / 2))
      }),
      { numRuns: 60 },
    )
  })

  it('with all parts at one bar are shown twice by as many pairs as they have parts', () => {
    const { chosen, bound } = wholly(choosePairs(treeInstance([0, 0, 0, 0, 0, 0], { demand: 2 }), 0, 0))
    expect({ chosen: chosen.length, bound }).toEqual({ chosen: 6, bound: { pairs: 6, by: 'ends' } })
  })
})

describe('runs', () => {
  it.each([1, 2, 3, 7, 12, 21, 40])(
    'of %i joints are told apart by half as many pairs as they have parts',
    (joints) => {
      const run = Array.from({ length: joints }, (_, e) => e)
      const { chosen, bound } = wholly(choosePairs(treeInstance(run), 0, 1))
      const least = Math.ceil((joints + 1) / 2)
      expect({ chosen: chosen.length, bound }).toEqual({ chosen: least, bound: { pairs: least, by: 'path' } })
    },
  )

  it.each([
    [10, 3],
    [12, 4],
    [31, 7],
  ])('of %i joints, of which a lead spans %i, are shown by as many leads as cover them', (joints, span) => {
    const run = Array.from({ length: joints }, (_, e) => e)
    const { chosen, bound } = wholly(choosePairs(treeInstance(run, { mostJoints: span }), 0, 0))
    expect({ chosen: chosen.length, bound: bound.pairs }).toEqual({
      chosen: Math.ceil(joints / span),
      bound: Math.ceil(joints / span),
    })
  })
})
