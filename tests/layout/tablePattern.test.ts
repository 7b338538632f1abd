import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { localIndexOf, localJointOf, localPartAt } from '../../src/layout/localParts.ts'
import { partKindNames } from '../../src/layout/partKinds.ts'
import type { TablePattern } from '../../src/layout/pattern.ts'
import type { PatternCache } from '../../src/layout/tablePattern.ts'
import { tablePattern } from '../../src/layout/tablePattern.ts'
import { writeLocalPart } from '../../src/model/address.ts'
import { jointsBetween } from '../../src/model/pattern.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { anyType } from './anyDrawing.ts'
import { modulesOf, railOf, typeOf } from './smallDrawings.ts'

const nameAt = (pattern: TablePattern, local: number) =>
  local < 0 ? 'earth' : writeLocalPart(localPartAt(pattern, local))

/** The joints of a kind as the addresses write them. */
function jointsOf(type: TableType, ...kinds: string[]): string[] {
  const pattern = tablePattern(type)
  const found: string[] = []
  for (let j = 0; j < pattern.jointCount; j++) {
    if (!kinds.includes(pattern.kindNames[pattern.kind[j]])) continue
    const ends = `${nameAt(pattern, pattern.from[j])}~${nameAt(pattern, pattern.to[j])}`
    found.push(pattern.parallel[j] > 1 ? `${ends}~${pattern.parallel[j]}` : ends)
  }
  return found
}

const clamped = (across: number, perMember: 1 | 2) =>
  typeOf({
    modules: modulesOf({ across }),
    frameBond: { clamps: { perMember, kind: 'frameClamp' }, links: null },
  })

describe('joints of a table', () => {
  // station   1     2     3     4
  //           |[F1]-|-[F2]|-[F3]|
  //   L1      o-----o-----o-----o
  it('two clamps per frame: a gap serves both its neighbours', () => {
    expect(jointsOf(clamped(3, 2), 'frameClamp')).toEqual([
      'F1.1~L1.1',
      'F1.1~L1.2',
      'F1.2~L1.2',
      'F1.2~L1.3',
      'F1.3~L1.3',
      'F1.3~L1.4',
    ])
  })

  it('one clamp per frame: neighbours share it in pairs, an odd last frame has its own', () => {
    expect(jointsOf(clamped(4, 1), 'frameClamp')).toEqual([
      'F1.1~L1.2',
      'F1.2~L1.2',
      'F1.3~L1.4',
      'F1.4~L1.4',
    ])
    expect(jointsOf(clamped(3, 1), 'frameClamp')).toEqual(['F1.1~L1.2', 'F1.2~L1.2', 'F1.3~L1.4'])
  })

  it('clamps only on the members that carry the module row', () => {
    const type = typeOf({
      modules: modulesOf({ high: 2, across: 1 }),
      longMembers: [railOf({ carries: [1] }), railOf({ carries: [2, 1] }), railOf({ carries: [] })],
      frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
    })
    expect(jointsOf(type, 'frameClamp')).toEqual([
      'F1.1~L1.1',
      'F1.1~L1.2',
      'F1.1~L2.1',
      'F1.1~L2.2',
      'F2.1~L2.1',
      'F2.1~L2.2',
    ])
  })

  //   F2.1 - F2.2
  //    |      |
  //   F1.1 - F1.2
  it('links along the table, up the table, both', () => {
    const linked = (direction: 'across' | 'high' | 'both') =>
      typeOf({
        modules: modulesOf({ high: 2, across: 2 }),
        frameBond: { clamps: null, links: { direction, kind: 'frameLink' } },
      })
    expect(jointsOf(linked('across'), 'frameLink')).toEqual(['F1.1~F1.2', 'F2.1~F2.2'])
    expect(jointsOf(linked('high'), 'frameLink')).toEqual(['F1.1~F2.1', 'F1.2~F2.2'])
    expect(jointsOf(linked('both'), 'frameLink')).toEqual([
      'F1.1~F1.2',
      'F1.1~F2.1',
      'F1.2~F2.2',
      'F2.1~F2.2',
    ])
  })

  it('a splice takes the place of the body between two stations, with the metal of that length', () => {
    const type = typeOf({ longMembers: [railOf({ spliceAfter: [2] })] })
    expect(jointsOf(type, 'memberBody')).toEqual(['L1.1~L1.2', 'L1.3~L1.4'])
    expect(jointsOf(type, 'splice')).toEqual(['L1.2~L1.3'])
    // stations at 0, 1.1, 2.3 and 3.4 m
    const { bodyM } = tablePattern(type)
    expect([...bodyM].map((m) => m.toFixed(9))).toEqual(['1.100000000', '1.200000000', '1.100000000'])
  })

  //  rear   L2 o---X1--o       posts 2 stand under X1 (station 2),
  //             \  |            posts 1 under the long members (station 1)
  //  front  L1 o---X1--o
  const supported = (bondKinds: readonly string[], lines: 1 | 2) =>
    typeOf({
      modules: modulesOf({ across: 2 }),
      longMembers: [railOf({ upM: 0.4 }), railOf({ upM: 1.6 })],
      crossMembers: { stations: [2], bracketKind: 'bracket' },
      posts: {
        stations: [1, 2],
        lines,
        support: 'pivot',
        bondKinds,
        soil: { buriedM: 1.5, diameterM: 0.1 },
      },
    })

  it('cross members meet every long member; posts the cross member of their station, else their own line', () => {
    const type = supported(['jumper'], 2)
    expect(jointsOf(type, 'bracket')).toEqual(['L1.2~X1', 'L2.2~X1'])
    expect(jointsOf(type, 'jumper')).toEqual(['L1.1~P1.1', 'L2.1~P2.1', 'X1~P1.2', 'X1~P2.2'])
    expect(jointsOf(type, 'earthPath')).toEqual(['P1.1~earth', 'P1.2~earth', 'P2.1~earth', 'P2.2~earth'])
  })

  it('a pivot with its jumper has two parallel joints, an isolating bush none', () => {
    expect(jointsOf(supported(['incidental', 'jumper'], 1), 'incidental', 'jumper')).toEqual([
      'L1.1~P1.1',
      'L1.1~P1.1~2',
      'X1~P1.2',
      'X1~P1.2~2',
    ])
    const bushed = supported([], 1)
    expect(jointsOf(bushed, 'jumper')).toEqual([])
    expect(jointsOf(bushed, 'earthPath')).toEqual(['P1.1~earth', 'P1.2~earth'])
  })
})

describe('parts of a table', () => {
  it('stand in the order frames, long members, cross members, posts', () => {
    const pattern = tablePattern(
      typeOf({
        modules: modulesOf({ high: 2, across: 1 }),
        crossMembers: { stations: [1], bracketKind: 'bracket' },
        posts: { stations: [2], lines: 2, support: 'fixed', bondKinds: [], soil: null },
      }),
    )
    const parts = Array.from({ length: pattern.partCount }, (_, p) => nameAt(pattern, p))
    expect(parts).toEqual(['F1.1', 'F2.1', 'L1.1', 'L1.2', 'X1', 'P1.1', 'P2.1'])
    expect([...pattern.partKind].map((code) => partKindNames[code])).toEqual([
      'frame',
      'frame',
      'longMember',
      'longMember',
      'crossMember',
      'post',
      'post',
    ])
  })

  // 2 high x 2, portrait 1 x 2 m, gaps 0.2 and 0.1 m, rails at 0.5 and 3.5 m, tilt 60° halves all heights in plan
  it('have their places along the table and up the slope as seen in plan', () => {
    const type = typeOf({
      tiltDeg: 60,
      modules: modulesOf({ high: 2, across: 2 }),
      longMembers: [railOf({ upM: 0.5 }), railOf({ upM: 3.5 })],
      crossMembers: { stations: [2], bracketKind: 'bracket' },
      posts: { stations: [2, 3], lines: 2, support: 'fixed', bondKinds: [], soil: null },
    })
    const pattern = tablePattern(type)
    const at = (name: string) => {
      const p = Array.from({ length: pattern.partCount }, (_, q) => nameAt(pattern, q)).indexOf(name)
      return [pattern.xM[p], pattern.yM[p]].map((m) => Number(m.toFixed(9)))
    }
    expect(at('F1.1')).toEqual([0.5, 0.5])
    expect(at('F2.2')).toEqual([1.7, 1.55])
    expect(at('L1.1')).toEqual([0, 0.25])
    expect(at('L1.2')).toEqual([1.1, 0.25])
    expect(at('L2.3')).toEqual([2.2, 1.75])
    expect(at('X1')).toEqual([1.1, 1])
    expect(at('P1.1')).toEqual([1.1, 0.25])
    expect(at('P2.2')).toEqual([2.2, 1.75])
    expect([pattern.size.alongM, pattern.size.upM].map((m) => Number(m.toFixed(9)))).toEqual([2.2, 2.05])
  })

  it('in landscape the long side runs along the table', () => {
    const { size } = tablePattern(typeOf({ modules: modulesOf({ across: 2, orientation: 'landscape' }) }))
    expect([...size.stationM]).toEqual([0, 2.1, 4.2])
    expect([size.frameAlongM, size.frameUpM]).toEqual([2, 1])
  })
})

it('a type is expanded once per cache', () => {
  const cache: PatternCache = new WeakMap()
  const type = typeOf({})
  expect(tablePattern(type, cache)).toBe(tablePattern(type, cache))
  expect(tablePattern(type, cache)).not.toBe(tablePattern({ ...type }, cache))
})

describe('of any type', () => {
  const checked = (check: (pattern: TablePattern) => void) =>
    fc.assert(
      fc.property(anyType('any'), (type) => check(tablePattern(type))),
      { seed: 71, numRuns: 120 },
    )

  it('joints ascend by their ends, which exist and differ', () => {
    checked(({ from, to, parallel, jointStart, jointCount, partCount }) => {
      const key = (j: number) => {
        const end = to[j] < 0 ? partCount : to[j]
        return (from[j] * (partCount + 1) + end) * 10 + parallel[j]
      }
      for (let j = 0; j < jointCount; j++) {
        expect(from[j]).toBeLessThan(to[j] < 0 ? partCount : to[j])
        expect(to[j]).toBeLessThan(partCount)
        if (j > 0) expect(key(j)).toBeGreaterThan(key(j - 1))
        expect(j).toBeGreaterThanOrEqual(jointStart[from[j]])
        expect(j).toBeLessThan(jointStart[from[j] + 1])
      }
    })
  })

  it('parts and joints are found again from their names, joints from either end', () => {
    checked((pattern) => {
      for (let p = 0; p < pattern.partCount; p++) {
        expect(localIndexOf(pattern, localPartAt(pattern, p))).toBe(p)
      }
      for (let j = 0; j < pattern.jointCount; j++) {
        const { from, to, parallel } = pattern
        expect(localJointOf(pattern, from[j], to[j], parallel[j])).toBe(j)
        expect(localJointOf(pattern, to[j], from[j], parallel[j])).toBe(j)
      }
    })
  })

  it('between any two parts there are as many joints as the rules of the model say', () => {
    checked((pattern) => {
      const { partCount, type, from, to } = pattern
      const counted = new Map<number, number>()
      for (let j = 0; j < pattern.jointCount; j++) {
        if (to[j] < 0) continue
        const ends = from[j] * partCount + to[j]
        counted.set(ends, (counted.get(ends) ?? 0) + 1)
      }
      for (let a = 0; a < partCount; a++) {
        for (let b = a + 1; b < partCount; b++) {
          const expected = jointsBetween(type, localPartAt(pattern, a), localPartAt(pattern, b))
          expect(counted.get(a * partCount + b) ?? 0).toBe(expected)
        }
      }
    })
  })
})
