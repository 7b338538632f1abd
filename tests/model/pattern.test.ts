import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../src/base/random.ts'
import { randomStream } from '../../src/base/random.ts'
import { localPartAt } from '../../src/layout/localParts.ts'
import { tablePattern } from '../../src/layout/tablePattern.ts'
import {
  clampStations,
  jointsBetween,
  jointsOfType,
  partExistsInType,
  partsOfType,
} from '../../src/model/pattern.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { fixedTilt, tracker } from './exampleSite.ts'

function someStations(random: RandomStream, across: number): number[] {
  const stations = Array.from({ length: across + 1 }, (_, k) => k + 1).filter(() => random.uniform() < 0.4)
  return stations.length > 0 ? stations : [1 + random.integer(across + 1)]
}

function anyType(random: RandomStream): TableType {
  const high = 1 + random.integer(3)
  const across = 1 + random.integer(6)
  const members = 1 + random.integer(4)
  const chance = () => random.uniform() < 0.5
  return {
    ...fixedTilt,
    modules: { ...fixedTilt.modules, high, across },
    longMembers: Array.from({ length: members }, (_, k) => ({
      ...fixedTilt.longMembers[0],
      upM: k,
      carries: Array.from({ length: high }, (_, h) => h + 1).filter(chance),
      spliceAfter: Array.from({ length: across }, (_, s) => s + 1).filter(chance),
    })),
    crossMembers: chance() ? { stations: someStations(random, across), bracketKind: 'bracket' } : null,
    posts: chance()
      ? {
          stations: someStations(random, across),
          lines: chance() ? 1 : 2,
          support: 'fixed',
          bondKinds: ['bracket', 'jumper', 'incidental'].slice(0, random.integer(4)),
          soil: chance() ? { buriedM: 1.5, diameterM: 0.1 } : null,
        }
      : null,
    frameBond: {
      clamps: chance() ? { perMember: chance() ? 1 : 2, kind: 'frameClamp' } : null,
      links: chance()
        ? { direction: (['across', 'high', 'both'] as const)[random.integer(3)], kind: 'frameLink' }
        : null,
    },
  }
}

describe('the pattern of a table type', () => {
  it('counts and finds exactly the parts and joints that expanding the type makes', () => {
    const random = randomStream(11)
    const types = [fixedTilt, tracker, ...Array.from({ length: 60 }, () => anyType(random))]
    for (const type of types) {
      const expanded = tablePattern(type)
      expect(partsOfType(type)).toBe(expanded.partCount)
      expect(jointsOfType(type)).toBe(expanded.jointCount)
      const parts = Array.from({ length: expanded.partCount }, (_, p) => localPartAt(expanded, p))
      expect(parts.every((part) => partExistsInType(type, part))).toBe(true)
      const between = new Map<string, number>()
      for (let j = 0; j < expanded.jointCount; j++) {
        if (expanded.to[j] < 0) continue
        const key = `${expanded.from[j]} ${expanded.to[j]}`
        between.set(key, (between.get(key) ?? 0) + 1)
      }
      for (let a = 0; a < parts.length; a++) {
        for (let b = 0; b < parts.length; b++) {
          const expected = between.get(`${Math.min(a, b)} ${Math.max(a, b)}`) ?? 0
          expect(jointsBetween(type, parts[a], parts[b])).toBe(a === b ? 0 : expected)
        }
      }
    }
  })

  it('ends where the type ends', () => {
    expect(partExistsInType(fixedTilt, { of: 'frame', high: 2, across: 4 })).toBe(true)
    expect(partExistsInType(fixedTilt, { of: 'frame', high: 3, across: 4 })).toBe(false)
    expect(partExistsInType(fixedTilt, { of: 'longMember', member: 4, station: 5 })).toBe(true)
    expect(partExistsInType(fixedTilt, { of: 'longMember', member: 4, station: 6 })).toBe(false)
    expect(partExistsInType(tracker, { of: 'crossMember', position: 1 })).toBe(false)
    expect(partExistsInType(tracker, { of: 'post', line: 2, position: 1 })).toBe(false)
  })

  it('puts one clamp into the gap that two frames share', () => {
    expect([1, 2, 3, 4, 5].map((across) => clampStations(1, across))).toEqual([[2], [2], [4], [4], [6]])
    expect(clampStations(2, 3)).toEqual([3, 4])
  })
})
