import type { TableType } from '../model/schema/tableType.ts'
import { crossMemberCode, frameCode, longMemberCode, postCode } from './partKinds.ts'
import type { TablePattern } from './pattern.ts'

/** What of one table hangs together by metal, and what hangs on nothing. */
export interface TableBonding {
  /** Parts of the table that metal joins, as sections; −1 never occurs. */
  readonly sectionOf: Int32Array
  readonly sections: number
  /** How many parts of each kind a section has, most parts first. */
  readonly holds: readonly SectionHolds[]
  /** Module rows whose frames rest on no long member. */
  readonly rowsOnNothing: readonly number[]
  /** Several long members and no cross member to join them (on a roof the frames do that). */
  readonly isUncrossed: boolean
  /** Posts without a bond to what they carry. */
  readonly unbondedPosts: number
}

export interface SectionHolds {
  readonly frames: number
  readonly members: number
  readonly crossMembers: number
  readonly posts: number
}

/**
 * Sections of one table by union of the ends of its joints, earth paths left out, as the network has them for a
 * site of one table. O((parts + joints) · α).
 * @param isRelied whether a kind of joint is there to bond; what only happens to conduct joins nothing here
 */
export function tableBonding(pattern: TablePattern, isRelied: (kind: string) => boolean): TableBonding {
  const { type, partCount, jointCount, from, to, kind, kindNames } = pattern
  const above = Int32Array.from({ length: partCount }, (_, part) => part)
  const topOf = (part: number) => {
    let top = part
    while (above[top] !== top) {
      above[top] = above[above[top]]
      top = above[top]
    }
    return top
  }
  for (let j = 0; j < jointCount; j++) {
    if (to[j] < 0 || !isRelied(kindNames[kind[j]])) continue
    const [a, b] = [topOf(from[j]), topOf(to[j])]
    above[Math.max(a, b)] = Math.min(a, b)
  }
  const numberOf = new Map<number, number>()
  const sectionOf = Int32Array.from({ length: partCount }, (_, part) => {
    const top = topOf(part)
    if (!numberOf.has(top)) numberOf.set(top, numberOf.size)
    return numberOf.get(top)!
  })
  return {
    sectionOf,
    sections: numberOf.size,
    holds: holdsOf(pattern, sectionOf, numberOf.size),
    rowsOnNothing: rowsOnNothing(type),
    isUncrossed: type.crossMembers === null && type.longMembers.length > 1 && type.mounting !== 'flushRoof',
    unbondedPosts:
      type.posts && type.posts.bondKinds.length === 0 ? type.posts.lines * type.posts.stations.length : 0,
  }
}

function rowsOnNothing({ modules, longMembers }: TableType): readonly number[] {
  const carried = new Set(longMembers.flatMap(({ carries }) => carries))
  return Array.from({ length: modules.high }, (_, h) => h + 1).filter((row) => !carried.has(row))
}

/** Long members are counted whole: the first piece of each stands for it. */
function holdsOf(pattern: TablePattern, sectionOf: Int32Array, sections: number): readonly SectionHolds[] {
  const { partKind, partCount, longStart, across } = pattern
  const holds = Array.from({ length: sections }, () => ({ frames: 0, members: 0, crossMembers: 0, posts: 0 }))
  for (let part = 0; part < partCount; part++) {
    const held = holds[sectionOf[part]]
    if (partKind[part] === frameCode) held.frames++
    if (partKind[part] === longMemberCode && (part - longStart) % (across + 1) === 0) held.members++
    if (partKind[part] === crossMemberCode) held.crossMembers++
    if (partKind[part] === postCode) held.posts++
  }
  const size = (held: SectionHolds) => held.frames + held.members + held.crossMembers + held.posts
  return holds.sort((a, b) => size(b) - size(a))
}
