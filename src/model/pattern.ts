import type { LocalPart } from './address.ts'
import { compareLocalParts } from './address.ts'
import type { TableType } from './schema/tableType.ts'

/*
 * The pattern from which a table's parts and joints follow, as arithmetic: what exists and how many, without
 * making any of it. Frames a and a + 1 of one module row on a long member, stations below:
 *
 *        ┌─────────┐   ┌─────────┐   ┌─────────┐
 *        │ frame 1 │   │ frame 2 │   │ frame 3 │      2 clamps per member: at stations a and a + 1
 *        └─────────┘   └─────────┘   └─────────┘      1 clamp per member: the gap that 2k − 1 and 2k share
 *        1 ───────── 2 ─────────── 3 ─────────── 4
 */

/** The stations at which frame `across` of a module row is clamped to a long member that carries it. */
export function clampStations(perMember: 1 | 2, across: number): readonly number[] {
  if (perMember === 2) return [across, across + 1]
  return [across % 2 === 1 ? across + 1 : across]
}

/**
 * What a post is joined to: the cross member at its station; where there is none, the long member over its
 * line (the first for line 1, the last for line 2).
 */
export function postCarries(type: TableType, line: number, position: number): LocalPart {
  const station = type.posts!.stations[position - 1]
  const cross = type.crossMembers ? type.crossMembers.stations.indexOf(station) : -1
  if (cross >= 0) return { of: 'crossMember', position: cross + 1 }
  return { of: 'longMember', member: line === 1 ? 1 : type.longMembers.length, station }
}

const within = (value: number, most: number) => Number.isInteger(value) && value >= 1 && value <= most

export function partExistsInType(type: TableType, part: LocalPart): boolean {
  switch (part.of) {
    case 'frame':
      return within(part.high, type.modules.high) && within(part.across, type.modules.across)
    case 'longMember':
      return within(part.member, type.longMembers.length) && within(part.station, type.modules.across + 1)
    case 'crossMember':
      return within(part.position, type.crossMembers?.stations.length ?? 0)
    case 'post':
      return (
        within(part.line, type.posts?.lines ?? 0) && within(part.position, type.posts?.stations.length ?? 0)
      )
  }
}

/**
 * How many parallel joints the pattern puts between two parts of one table, 0 where it puts none. The order
 * of the two does not matter.
 */
export function jointsBetween(type: TableType, one: LocalPart, other: LocalPart): number {
  if (!partExistsInType(type, one) || !partExistsInType(type, other)) return 0
  const [from, to] = compareLocalParts(one, other) < 0 ? [one, other] : [other, one]
  const { clamps, links } = type.frameBond
  if (to.of === 'post') {
    const carried = postCarries(type, to.line, to.position)
    return compareLocalParts(from, carried) === 0 ? type.posts!.bondKinds.length : 0
  }
  if (from.of === 'frame' && to.of === 'frame') {
    const along = to.high === from.high && to.across === from.across + 1
    const up = to.across === from.across && to.high === from.high + 1
    if (!links) return 0
    return (along && links.direction !== 'high') || (up && links.direction !== 'across') ? 1 : 0
  }
  if (from.of === 'frame' && to.of === 'longMember') {
    if (!clamps || !type.longMembers[to.member - 1].carries.includes(from.high)) return 0
    return clampStations(clamps.perMember, from.across).includes(to.station) ? 1 : 0
  }
  if (from.of === 'longMember' && to.of === 'longMember') {
    return to.member === from.member && to.station === from.station + 1 ? 1 : 0
  }
  if (from.of === 'longMember' && to.of === 'crossMember') {
    return from.station === type.crossMembers!.stations[to.position - 1] ? 1 : 0
  }
  return 0
}

/** Parts of one table: frames, long members (one part per station), cross members, posts. */
export function partsOfType(type: TableType): number {
  const { high, across } = type.modules
  const posts = type.posts ? type.posts.stations.length * type.posts.lines : 0
  return (
    high * across + type.longMembers.length * (across + 1) + (type.crossMembers?.stations.length ?? 0) + posts
  )
}

/** Joints of one table, the earth paths of its posts among them. */
export function jointsOfType(type: TableType): number {
  const { high, across } = type.modules
  const { clamps, links } = type.frameBond
  const carried = type.longMembers.reduce((sum, member) => sum + new Set(member.carries).size, 0)
  const clamped = clamps ? carried * across * clamps.perMember : 0
  const along = links && links.direction !== 'high' ? high * (across - 1) : 0
  const up = links && links.direction !== 'across' ? (high - 1) * across : 0
  const members = type.longMembers.length * across
  const brackets = (type.crossMembers?.stations.length ?? 0) * type.longMembers.length
  const posts = type.posts ? type.posts.stations.length * type.posts.lines : 0
  const perPost = type.posts ? type.posts.bondKinds.length + (type.posts.soil ? 1 : 0) : 0
  return clamped + along + up + members + brackets + posts * perPost
}
