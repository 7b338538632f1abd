import { assert } from '../base/assert.ts'
import { jointsOfType, partsOfType } from '../model/pattern.ts'
import type { TableType } from '../model/schema/tableType.ts'
import { crossMemberCode, frameCode, longMemberCode, postCode } from './partKinds.ts'
import type { TablePattern, TableShape } from './pattern.ts'
import { patternJoints } from './patternJoints.ts'
import { tableSize } from './tableSize.ts'

/** Patterns already made, by the identity of their type; the caller keeps it as long as it likes. */
export type PatternCache = WeakMap<TableType, TablePattern>

/**
 * Expands a type whose stations and module rows are within its size (`indexSite` checks that).
 * O(parts + joints) of one table.
 */
export function tablePattern(type: TableType, cache?: PatternCache): TablePattern {
  const made = cache?.get(type)
  if (made) return made
  const { high, across } = type.modules
  const longStart = high * across
  const crossStart = longStart + type.longMembers.length * (across + 1)
  const postStart = crossStart + (type.crossMembers?.stations.length ?? 0)
  const size = tableSize(type)
  const shape = {
    type,
    size,
    high,
    across,
    members: type.longMembers.length,
    longStart,
    crossStart,
    postStart,
    postsPerLine: type.posts?.stations.length ?? 0,
    partCount: partsOfType(type),
  }
  const pattern = { ...shape, ...patternParts(shape), ...patternJoints(shape, jointsOfType(type)) }
  cache?.set(type, pattern)
  return pattern
}

function patternParts(shape: TableShape): Pick<TablePattern, 'partKind' | 'xM' | 'yM'> {
  const { type, size, high, across, members, partCount } = shape
  const partKind = new Uint8Array(partCount)
  const xM = new Float64Array(partCount)
  const yM = new Float64Array(partCount)
  const memberUpM = type.longMembers.map((member) => member.upM * size.planFactor)
  const middleUpM = (Math.min(...memberUpM) + Math.max(...memberUpM)) / 2
  let n = 0
  const add = (code: number, x: number, y: number) => {
    partKind[n] = code
    xM[n] = x
    yM[n++] = y
  }
  for (let h = 0; h < high; h++) {
    for (let a = 0; a < across; a++) {
      add(frameCode, a * size.pitchAlongM + size.frameAlongM / 2, h * size.pitchUpM + size.frameUpM / 2)
    }
  }
  for (let m = 0; m < members; m++) {
    for (let s = 0; s <= across; s++) add(longMemberCode, size.stationM[s], memberUpM[m])
  }
  const crossStations = type.crossMembers?.stations ?? []
  for (const station of crossStations) add(crossMemberCode, size.stationM[station - 1], middleUpM)
  for (let line = 1; line <= (type.posts?.lines ?? 0); line++) {
    for (const station of type.posts!.stations) {
      const isMiddle = type.posts!.lines === 1 && crossStations.includes(station)
      const upM = isMiddle ? middleUpM : memberUpM[line === 1 ? 0 : members - 1]
      add(postCode, size.stationM[station - 1], upM)
    }
  }
  assert(n === partCount, `a table of type ${type.id} has ${n} parts, counted ${partCount}`)
  return { partKind, xM, yM }
}
