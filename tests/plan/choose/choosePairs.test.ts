import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../../src/base/portion.ts'
import { randomStream } from '../../../src/base/random.ts'
import { choosePairs } from '../../../src/plan/choose/choosePairs.ts'
import type { PairInstance } from '../../../src/plan/choose/chooseTypes.ts'
import { attainableDemand } from '../../../src/plan/choose/coverSets.ts'
import { neededEnds } from '../../../src/plan/choose/ends.ts'
import { leafBound } from '../../../src/plan/choose/leafBound.ts'
import { Partition, partitionBy } from '../../../src/plan/choose/partition.ts'
import { leastByTrying, meetsAll } from './exhaustive.ts'
import { pairInstanceOf, smallPairInstances, treeInstance } from './instances.ts'

/** What each joint reads in the chosen, joint by joint. */
function signsBy({ signs }: PairInstance, chosen: readonly number[]): string[] {
  const found = Array.from({ length: signs.joints }, () => '')
  for (const c of chosen)
    for (let i = signs.offset[c]; i < signs.offset[c + 1]; i++)
      found[signs.joint[i]] += `${c}:${signs.level[i]} `
  return found
}

const classesBy = (instance: PairInstance, chosen: readonly number[]) =>
  new Set(signsBy(instance, chosen)).size

const everyOne = ({ shown }: PairInstance) => Array.from({ length: shown.candidates }, (_, c) => c)

describe('classes of joints that look alike', () => {
  it('are those with the same signs, and the bits gained are their entropy', () => {
    fc.assert(
      fc.property(smallPairInstances, (instance) => {
        const partition = new Partition(instance.signs, instance.weight)
        const taken: number[] = []
        let told = 0
        for (const c of everyOne(instance)) {
          told += partition.gain(c)
          partition.take(c)
          taken.push(c)
          const signs = signsBy(instance, taken)
          const counts = new Map<string, number>()
          for (const sign of signs) counts.set(sign, (counts.get(sign) ?? 0) + 1)
          expect(partition.classes).toBe(counts.size)
          signs.forEach((sign, e) =>
            signs.forEach((other, f) =>
              expect(partition.classOf[e] === partition.classOf[f]).toBe(sign === other),
            ),
          )
          let bits = 0
          for (const count of counts.values())
            bits -= (count / signs.length) * Math.log2(count / signs.length)
          expect(partition.bits).toBeCloseTo(bits, 9)
          expect(told).toBeCloseTo(bits, 9)
        }
      }),
      { numRuns: 100 },
    )
  })
})

describe('pairs chosen to show all', () => {
  it('are as few as trying every choice finds, whatever is required, with the bound at the least', () => {
    fc.assert(
      fc.property(smallPairInstances, fc.integer({ min: 0, max: 2 }), (instance, wanted) => {
        const required = Math.min(wanted, instance.shown.candidates)
        const { chosen, bound } = wholly(choosePairs(instance, required, 0))
        const least = leastByTrying(
          instance.shown,
          (tried) =>
            everyOne(instance)
              .slice(0, required)
              .every((c) => tried.includes(c)) && meetsAll(instance.shown, tried),
        )
        expect(chosen.slice(0, required)).toEqual(everyOne(instance).slice(0, required))
        expect(meetsAll(instance.shown, chosen)).toBe(true)
        expect({ chosen: chosen.length, bound: bound.pairs }).toEqual({ chosen: least, bound: least })
      }),
      { numRuns: 200 },
    )
  })

  it('come to share their parts where as few pairs allow it', () => {
    // Joint 0 is shown between 1 and 2 or from the bar 9 to 1, joint 1 between 3 and 4 or from the bar to 3.
    const joined = pairInstanceOf(3, [
      { from: 1, to: 2, shows: [0] },
      { from: 1, to: 9, shows: [0] },
      { from: 3, to: 4, shows: [1] },
      { from: 3, to: 9, shows: [1] },
      { from: 7, to: 8, shows: [0, 2] },
      { from: 10, to: 9, shows: [1, 2] },
    ])
    const { chosen } = wholly(choosePairs(joined, 0, 0))
    expect(chosen).toHaveLength(2)
    expect(chosen).toEqual([1, 5])
  })
})

describe('pairs chosen to tell apart', () => {
  it('are as few as trying every choice finds, whatever is required, with the bound at the least', () => {
    fc.assert(
      fc.property(smallPairInstances, fc.integer({ min: 0, max: 2 }), (instance, wanted) => {
        const required = Math.min(wanted, instance.shown.candidates)
        const { chosen, bound } = wholly(choosePairs(instance, required, 1))
        const all = classesBy(instance, everyOne(instance))
        const least = leastByTrying(
          instance.shown,
          (tried) =>
            everyOne(instance)
              .slice(0, required)
              .every((c) => tried.includes(c)) &&
            meetsAll(instance.shown, tried) &&
            classesBy(instance, tried) === all,
        )
        expect(meetsAll(instance.shown, chosen)).toBe(true)
        expect(classesBy(instance, chosen)).toBe(all)
        expect(chosen.length).toBe(least)
        expect(bound.pairs).toBe(least)
      }),
      { numRuns: 200 },
    )
  })

  it('tell apart more and show as much the more telling apart is asked for', () => {
    const random = randomStream(3)
    const parents = Array.from({ length: 24 }, (_, e) => Math.max(0, e - random.integer(3)))
    const instance = treeInstance(parents)
    let before = 0
    for (const tellApart of [0, 0.3, 0.7, 1]) {
      const { chosen, bound } = wholly(choosePairs(instance, 0, tellApart))
      expect(meetsAll(instance.shown, chosen)).toBe(true)
      expect(bound.pairs).toBeLessThanOrEqual(chosen.length)
      const classes = classesBy(instance, chosen)
      expect(classes).toBeGreaterThanOrEqual(before)
      before = classes
    }
    expect(before).toBe(24)
  })

  it('needs every part of a run as an end, and every leaf only to show', () => {
    const run = treeInstance([0, 1, 2, 3, 4, 5])
    const asked = { need: run.shown.demand, classOf: new Int32Array(6) }
    expect(wholly(neededEnds(run, asked, true)).part.toSorted((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6])
    expect(wholly(neededEnds(run, asked, false)).part.toSorted((a, b) => a - b)).toEqual([0, 6])
  })
})

describe('leaves of a star', () => {
  const star = (leaves: number, demand = 1) =>
    treeInstance(
      Array.from({ length: leaves }, () => 0),
      { demand },
    )
  const boundOf = (instance: PairInstance) => {
    const asked = { need: attainableDemand(instance.shown), classOf: new Int32Array(instance.shown.joints) }
    const { classOf } = partitionBy(instance, asked, everyOne(instance))
    return leafBound(instance, asked, classOf, wholly(neededEnds(instance, asked, true)))
  }

  it('need two thirds as many pairs to be told apart, as trying every choice finds', () => {
    for (let leaves = 2; leaves <= 5; leaves++) {
      const instance = star(leaves)
      const least = leastByTrying(
        instance.shown,
        (tried) => meetsAll(instance.shown, tried) && classesBy(instance, tried) === leaves,
      )
      expect(least).toBe(Math.ceil((2 * leaves) / 3))
      expect(boundOf(instance)).toBe(least)
    }
    const { chosen, bound } = wholly(choosePairs(star(24), 0, 1))
    expect(bound.pairs).toBe(16)
    expect(chosen.length).toBeLessThanOrEqual(17)
    expect(boundOf(star(24, 2))).toBe(24)
  })

  it('and other parts that must be ends never need more than the least that does: small trees', () => {
    const trees = fc.record({
      parents: fc.array(fc.nat(), { minLength: 1, maxLength: 5 }),
      mostJoints: fc.constantFrom(2, 3, Infinity),
      demand: fc.constantFrom(1, 1, 2),
    })
    let tight = 0
    fc.assert(
      fc.property(trees, ({ parents, mostJoints, demand }) => {
        const instance = treeInstance(
          parents.map((p, e) => p % (e + 1)),
          { mostJoints, demand },
        )
        const all = classesBy(instance, everyOne(instance))
        const least = leastByTrying(
          instance.shown,
          (tried) => meetsAll(instance.shown, tried) && classesBy(instance, tried) === all,
        )
        expect(boundOf(instance)).toBeLessThanOrEqual(least)
        if (boundOf(instance) === least) tight++
      }),
      { seed: 21, numRuns: 120 },
    )
    expect(tight).toBeGreaterThan(60)
  })

  it('never need more than the least that does, whatever else there is', () => {
    fc.assert(
      fc.property(smallPairInstances, (instance) => {
        const all = classesBy(instance, everyOne(instance))
        const least = leastByTrying(
          instance.shown,
          (tried) => meetsAll(instance.shown, tried) && classesBy(instance, tried) === all,
        )
        expect(boundOf(instance)).toBeLessThanOrEqual(least)
      }),
      { seed: 8, numRuns: 300 },
    )
  })
})

describe('a choice', () => {
  it('of a thousand alike tables takes the same pairs in each', () => {
    const one = treeInstance([0, 0, 1, 1, 2, 2, 3])
    const { shown } = one
    const tables = 1000
    const copies = pairInstanceOf(
      shown.joints * tables,
      Array.from({ length: tables * shown.candidates }, (_, i) => {
        const c = i % shown.candidates
        const table = Math.floor(i / shown.candidates)
        return {
          from: one.from[c] + 100 * table,
          to: one.to[c] + 100 * table,
          shows: Array.from(
            shown.joint.subarray(shown.offset[c], shown.offset[c + 1]),
            (e) => e + table * shown.joints,
          ),
        }
      }),
    )
    for (const tellApart of [0, 1]) {
      const single = wholly(choosePairs(one, 0, tellApart))
      const many = wholly(choosePairs(copies, 0, tellApart))
      expect(many.bound).toEqual({ ...single.bound, pairs: tables * single.bound.pairs })
      expect(many.chosen.slice(0, single.chosen.length)).toEqual(single.chosen)
      expect(many.chosen.slice(-single.chosen.length)).toEqual(
        single.chosen.map((c) => c + (tables - 1) * shown.candidates),
      )
    }
  })

  it('is the same whenever it is asked for', () => {
    const instance = treeInstance([0, 0, 1, 1, 2, 2, 3, 4, 4])
    expect(wholly(choosePairs(instance, 1, 0.5))).toEqual(wholly(choosePairs(instance, 1, 0.5)))
  })
})
