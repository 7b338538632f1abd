import { assert } from '../base/assert.ts'
import type { LocalPart } from '../model/address.ts'
import type { TablePattern, TableShape } from './pattern.ts'

/** The number of a part in its table, −1 where the type has no such part. O(1). */
export function localIndexOf(pattern: TableShape, part: LocalPart): number {
  const { high, across, members, longStart, crossStart, postStart, postsPerLine, partCount } = pattern
  switch (part.of) {
    case 'frame':
      return isWithin(part.high, high) && isWithin(part.across, across)
        ? (part.high - 1) * across + part.across - 1
        : -1
    case 'longMember':
      return isWithin(part.member, members) && isWithin(part.station, across + 1)
        ? longStart + (part.member - 1) * (across + 1) + part.station - 1
        : -1
    case 'crossMember':
      return isWithin(part.position, postStart - crossStart) ? crossStart + part.position - 1 : -1
    case 'post': {
      const at = postStart + (part.line - 1) * postsPerLine + part.position - 1
      return isWithin(part.position, postsPerLine) && part.line >= 1 && at < partCount ? at : -1
    }
  }
}

function isWithin(position: number, count: number): boolean {
  return position >= 1 && position <= count
}

/** The part of a table that has this number. O(1). */
export function localPartAt(pattern: TableShape, local: number): LocalPart {
  const { across, longStart, crossStart, postStart, postsPerLine, partCount } = pattern
  assert(local >= 0 && local < partCount, `a table of type ${pattern.type.id} has no part ${local}`)
  if (local < longStart) {
    return { of: 'frame', high: Math.floor(local / across) + 1, across: (local % across) + 1 }
  }
  if (local < crossStart) {
    const piece = local - longStart
    return {
      of: 'longMember',
      member: Math.floor(piece / (across + 1)) + 1,
      station: (piece % (across + 1)) + 1,
    }
  }
  if (local < postStart) return { of: 'crossMember', position: local - crossStart + 1 }
  const post = local - postStart
  return { of: 'post', line: Math.floor(post / postsPerLine) + 1, position: (post % postsPerLine) + 1 }
}

/** Number of the joint between two parts of a table in either order (−1: remote earth), −1 where none is. */
export function localJointOf(pattern: TablePattern, one: number, other: number, parallel: number): number {
  const isEarth = one < 0 || other < 0
  const first = isEarth ? Math.max(one, other) : Math.min(one, other)
  const second = isEarth ? -1 : Math.max(one, other)
  const { jointStart, to } = pattern
  for (let j = jointStart[first]; j < jointStart[first + 1]; j++) {
    if (to[j] === second && pattern.parallel[j] === parallel) return j
  }
  return -1
}
