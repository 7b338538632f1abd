import { describe, expect, it } from 'vitest'
import { assert } from '../../../src/base/assert.ts'
import { partAddressAt, partKindAt } from '../../../src/layout/partIndex.ts'
import { partKindNames } from '../../../src/layout/partKinds.ts'
import { indexSite } from '../../../src/layout/siteIndex.ts'
import { writePartAddress } from '../../../src/model/address.ts'
import { planPatterns, type PlanPattern } from '../../../src/model/planning.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { layPattern } from '../../../src/plan/patterns/layPattern.ts'
import { pointsInOrder, reachableKinds, tablesOutOfAccess } from '../../../src/plan/patterns/pointOrder.ts'
import { straightM } from '../../../src/walk/reach.ts'
import { fieldDrawing } from '../../generator/fieldDrawing.ts'
import { roofDrawing } from '../../generator/roofDrawing.ts'
import { trackerDrawing } from '../../generator/trackerDrawing.ts'
import { rowSite } from '../../locate/rowSite.ts'

const ids = { site: '00000000-0000-4000-8000-000000000001', revision: '00000000-0000-4000-8000-000000000002' }
const sites: Readonly<Record<string, Drawing>> = {
  field: fieldDrawing(ids),
  roof: roofDrawing(ids),
  tracker: trackerDrawing(ids),
}

function laid(drawing: Drawing, pattern: PlanPattern, reachM: number) {
  const index = indexSite(drawing)
  assert(index.ok, 'the drawing can be indexed')
  const stretches = pointsInOrder(index.value, reachableKinds(drawing), 'ends')
  const pairs = layPattern(pattern, index.value, stretches, reachM)
  const name = (part: number) => writePartAddress(partAddressAt(index.value, part))
  return { index: index.value, stretches, pairs, named: pairs.map(({ from, to }) => [name(from), name(to)]) }
}

const without = (drawing: Drawing, ...kinds: readonly string[]): Drawing => ({
  ...drawing,
  access: drawing.access.map((each) => (kinds.includes(each.part) ? { ...each, reachable: false } : each)),
})

describe.each(Object.keys(sites))('on the %s', (site) => {
  it.each(planPatterns)(
    'every pair of a %s is within the lead and at parts that a clip reaches',
    (pattern) => {
      for (const drawing of [sites[site], without(sites[site], 'longMember')]) {
        const reachable = reachableKinds(drawing)
        const { index, pairs } = laid(drawing, pattern, 47)
        expect(pairs.length).toBeGreaterThan(10)
        for (const { from, to } of pairs) {
          if (straightM(index, from, to) > 47 || from === to) expect.fail(`pair from ${from} to ${to}`)
          for (const part of [from, to]) {
            const kind = partKindNames[partKindAt(index, part)]
            if (kind === 'remoteEarth' || !reachable.has(kind)) expect.fail(`${kind} is not reached`)
          }
        }
        expect(new Set(pairs.map(({ from, to }) => `${from} ${to}`)).size).toBe(pairs.length)
      }
    },
  )
})

describe('on the field', () => {
  it('a walk begins at the bar and takes in every table at both ends', () => {
    const { stretches, index } = laid(sites['field'], 'chain', 47)
    expect(stretches[0].rungs[0].low).toBe(index.earthBarStart)
    expect(stretches.filter(({ row }) => row !== null).map(({ rungs }) => rungs.length)).toEqual(
      Array(6).fill(16),
    )
  })

  it('a chain runs from end to end of each table, across it, and ties all rows', () => {
    const { named, stretches } = laid(sites['field'], 'chain', 47)
    const points = stretches.reduce((sum, { rungs }) => sum + rungs.length, 0)
    expect(named.length).toBe(points - 1)
    expect(named.map((ends) => ends.toSorted())).toContainEqual(['R1/T4/L1.1', 'R1/T4/L4.11'])
  })

  it('a star re-bases with shared points where the row is longer than the lead', () => {
    const { pairs, stretches } = laid(sites['field'], 'star', 30)
    const row = new Set(
      stretches.find((each) => each.row === 0)!.rungs.flatMap(({ low, high }) => [low, high]),
    )
    const setUps = new Map<number, Set<number>>()
    for (const { from, to } of pairs) {
      if (row.has(from) && row.has(to)) setUps.set(from, (setUps.get(from) ?? new Set([from])).add(to))
    }
    const served = [...setUps.values()]
    expect(served.length).toBeGreaterThan(1)
    served.slice(1).forEach((points, k) => {
      expect([...points].filter((point) => served[k].has(point)).length).toBeGreaterThanOrEqual(2)
    })
  })

  it('a ladder has both outer rails and a rung at each end of a table', () => {
    const { named } = laid(sites['field'], 'ladder', 47)
    const keys = new Set(named.map((ends) => ends.toSorted().join(' ')))
    for (const key of [
      'R2/T3/L1.1 R2/T3/L4.1',
      'R2/T3/L1.1 R2/T3/L1.11',
      'R2/T3/L4.1 R2/T3/L4.11',
      'R2/T3/L1.11 R2/T4/L1.1',
      'R2/T3/L4.11 R2/T4/L4.1',
    ])
      expect(keys).toContain(key)
  })
})

describe('what no clip reaches', () => {
  it('takes frames where rails are not reached, and counts tables with nothing', () => {
    const { drawing } = rowSite((each) => without(each, 'longMember'))
    const { named } = laid(drawing, 'ladder', 47)
    expect(named.flat().every((part) => !part.includes('/L'))).toBe(true)
    expect(named.flat()).toContain('R1/T1/F2.4')
    const bare = without(drawing, 'frame', 'crossMember', 'post')
    const { index, pairs } = laid(bare, 'chain', 47)
    expect(tablesOutOfAccess(index, reachableKinds(bare))).toBe(12)
    expect(pairs.length).toBe(1)
    expect(tablesOutOfAccess(index, reachableKinds(drawing))).toBe(0)
  })
})
