import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { tableIdAt } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { MapMarks, SuspectMark } from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import type { Target } from '../tools/tap.ts'

export function partText(index: SiteIndex, part: number): string {
  return writePartAddress(partAddressAt(index, part))
}

export function jointText(index: SiteIndex, joint: number): string {
  return writeJointAddress(jointAddressAt(index, joint))
}

/** What was hit on the map, named as the rest of the screen names it. */
export function pickedOf(index: SiteIndex, suspects: readonly SuspectMark[], target: Target): Picked {
  switch (target.kind) {
    case 'part':
      return { kind: 'part', address: partText(index, target.part) }
    case 'joint':
      return { kind: 'joint', address: jointText(index, target.joint) }
    case 'suspect':
      return { kind: 'suspect', joint: jointText(index, headOfGroup(suspects, target.joint)) }
    case 'reading':
      return { kind: 'reading', entry: target.entry }
    case 'table': {
      const { run, place } = target
      const row = index.drawing.rows[index.rows.runs.row[run]].id
      return { kind: 'table', row, table: tableIdAt(index.rows, { run, place }) }
    }
  }
}

/** A group is named by its first joint, which is its likeliest. */
function headOfGroup(suspects: readonly SuspectMark[], joint: number): number {
  const rank = suspects.find((suspect) => suspect.joint === joint)?.rank
  return suspects.find((suspect) => suspect.rank === rank)?.joint ?? joint
}

/** The first joint of each group, first group first. */
export function headsOfGroups(suspects: readonly SuspectMark[]): readonly number[] {
  const heads = new Map<number, number>()
  for (const { rank, joint } of suspects) if (!heads.has(rank)) heads.set(rank, joint)
  return [...heads].sort(([a], [b]) => a - b).map(([, joint]) => joint)
}

/** The first joint of the group before or after the one that is chosen, round and round; −1 where there is none. */
export function nextHead(
  index: SiteIndex,
  { suspects, picked }: Pick<MapMarks, 'suspects' | 'picked'>,
  by: 1 | -1,
): number {
  const heads = headsOfGroups(suspects)
  if (heads.length === 0) return -1
  const address = picked?.kind === 'suspect' ? picked.joint : picked?.kind === 'joint' ? picked.address : null
  const at = heads.findIndex((joint) => jointText(index, joint) === address)
  return heads[at < 0 ? (by > 0 ? 0 : heads.length - 1) : (at + by + heads.length) % heads.length]
}
