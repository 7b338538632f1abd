import type { TableType } from '../schema/tableType.ts'
import type { Findings, Path } from './findings.ts'
import { checkKind, inconsistent } from './findings.ts'

function checkNumbers(
  findings: Findings,
  numbers: readonly number[],
  most: number,
  what: string,
  path: Path,
): void {
  const seen = new Set<number>()
  numbers.forEach((number, k) => {
    if (number > most)
      inconsistent(findings, `${what} ${number} does not exist, the last is ${most}`, [...path, k])
    if (seen.has(number)) inconsistent(findings, `${what} ${number} is given twice`, [...path, k])
    seen.add(number)
  })
}

export function checkTableType(findings: Findings, type: TableType, path: Path): void {
  const { high, across } = type.modules
  type.longMembers.forEach((member, k) => {
    const at = [...path, 'longMembers', k]
    checkNumbers(findings, member.carries, high, 'module row', [...at, 'carries'])
    checkNumbers(findings, member.spliceAfter, across, 'a splice after station', [...at, 'spliceAfter'])
    if (member.spliceAfter.length > 0) checkKind(findings, 'splice', [...at, 'spliceAfter'])
  })
  if (type.crossMembers) {
    const at = [...path, 'crossMembers']
    checkNumbers(findings, type.crossMembers.stations, across + 1, 'station', [...at, 'stations'])
    checkKind(findings, type.crossMembers.bracketKind, [...at, 'bracketKind'])
  }
  if (type.posts) {
    const at = [...path, 'posts']
    checkNumbers(findings, type.posts.stations, across + 1, 'station', [...at, 'stations'])
    type.posts.bondKinds.forEach((kind, k) => checkKind(findings, kind, [...at, 'bondKinds', k]))
  }
  const { clamps, links } = type.frameBond
  if (clamps) checkKind(findings, clamps.kind, [...path, 'frameBond', 'clamps', 'kind'])
  if (links) checkKind(findings, links.kind, [...path, 'frameBond', 'links', 'kind'])
}
