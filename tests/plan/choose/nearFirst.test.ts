import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../../src/base/portion.ts'
import { choosePairs } from '../../../src/plan/choose/choosePairs.ts'
import type { PairInstance } from '../../../src/plan/choose/chooseTypes.ts'
import { chooseNearFirst } from '../../../src/plan/choose/nearFirst.ts'
import { partitionBy } from '../../../src/plan/choose/partition.ts'
import { leastByTrying, meetsAll } from './exhaustive.ts'
import { pairInstanceOf, smallPairInstances } from './instances.ts'

const everyOne = ({ shown }: PairInstance) => Array.from({ length: shown.candidates }, (_, c) => c)

function classesBy(instance: PairInstance, chosen: readonly number[]): number {
  const asked = { need: instance.shown.demand, classOf: new Int32Array(instance.shown.joints) }
  return partitionBy(instance, asked, chosen).classes
}

/** Rows of runs of four joints: near pairs along each, and far ones that show the first joint of one row and of the next. */
function tiedRuns(rows: number): { readonly instance: PairInstance; readonly isNear: Uint8Array } {
  const pairs: { from: number; to: number; shows: number[] }[] = []
  for (let row = 0; row < rows; row++)
    for (let from = 0; from < 4; from++)
      for (let to = from + 1; to <= 4; to++)
        pairs.push({
          from: 5 * row + from,
          to: 5 * row + to,
          shows: Array.from({ length: to - from }, (_, k) => 4 * row + from + k),
        })
  const near = pairs.length
  for (let row = 0; row + 1 < rows; row++)
    pairs.push({ from: 5 * row, to: 5 * row + 5, shows: [4 * row, 4 * row + 4] })
  const isNear = Uint8Array.from(pairs, (_, c) => (c < near ? 1 : 0))
  return { instance: pairInstanceOf(4 * rows, pairs), isNear }
}

describe('a choice from near pairs first', () => {
  it('shows and tells apart all that any candidates do, with a bound that no choice goes below', () => {
    const flags = fc.array(fc.integer({ min: 0, max: 1 }), { minLength: 9, maxLength: 9 })
    const asked = fc.record({
      instance: smallPairInstances,
      flags,
      wanted: fc.integer({ min: 0, max: 2 }),
      tellApart: fc.constantFrom(0, 0.5, 1),
    })
    fc.assert(
      fc.property(asked, ({ instance, flags: drawn, wanted, tellApart }) => {
        const required = Math.min(wanted, instance.shown.candidates)
        const isNear = Uint8Array.from(drawn.slice(0, instance.shown.candidates))
        const { chosen, bound } = wholly(chooseNearFirst(instance, required, tellApart, isNear, 0))
        const all = classesBy(instance, everyOne(instance))
        const least = leastByTrying(
          instance.shown,
          (tried) =>
            everyOne(instance)
              .slice(0, required)
              .every((c) => tried.includes(c)) &&
            meetsAll(instance.shown, tried) &&
            (tellApart < 1 || classesBy(instance, tried) === all),
        )
        expect(meetsAll(instance.shown, chosen)).toBe(true)
        if (tellApart === 1) expect(classesBy(instance, chosen)).toBe(all)
        expect(chosen).toEqual([...new Set(chosen)].sort((a, b) => a - b))
        expect(chosen.slice(0, required)).toEqual(everyOne(instance).slice(0, required))
        expect(bound.pairs).toBeLessThanOrEqual(least)
        // near enough is 2 %, which is less than a pair here
        if (tellApart < 0.5 || tellApart === 1) expect(chosen.length).toBe(least)
      }),
      { seed: 11, numRuns: 300 },
    )
  })

  it('takes pairs along rows where these are as few as the ends prove', () => {
    const { instance, isNear } = tiedRuns(6)
    const { chosen, bound } = wholly(chooseNearFirst(instance, 0, 0, isNear, 0))
    expect(chosen.every((c) => isNear[c] === 1)).toBe(true)
    expect({ chosen: chosen.length, bound: bound.pairs }).toEqual({ chosen: 6, bound: 6 })
  })

  it('takes pairs across where they save some, and where nothing else tells two joints apart', () => {
    const saving = pairInstanceOf(2, [
      { from: 0, to: 1, shows: [0] },
      { from: 2, to: 3, shows: [1] },
      { from: 0, to: 2, shows: [0, 1] },
    ])
    const isNear = Uint8Array.of(1, 1, 0)
    expect(wholly(chooseNearFirst(saving, 0, 0, isNear, 0)).chosen).toEqual([2])
    const only = pairInstanceOf(2, [
      { from: 0, to: 1, shows: [0, 1] },
      { from: 0, to: 2, shows: [0] },
    ])
    expect(wholly(chooseNearFirst(only, 0, 1, Uint8Array.of(1, 0), 0)).chosen).toEqual([0, 1])
  })

  it('is the choice from all where the site is small', () => {
    const { instance, isNear } = tiedRuns(3)
    expect(wholly(chooseNearFirst(instance, 0, 1, isNear))).toEqual(wholly(choosePairs(instance, 0, 1)))
  })
})
