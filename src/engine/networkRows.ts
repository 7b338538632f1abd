import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt, partKindAt } from '../layout/partIndex.ts'
import { partKindNames } from '../layout/partKinds.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { JointRow, PartRow } from '../model/answers.ts'
import { namePart } from '../text/partNames.ts'
import type { NameBook } from '../text/places.ts'
import type { NetworkAnswer } from './networkAnswer.ts'

/** What is known of one part; remote earth is the last node and has no place: its coordinates are NaN-free zeros. */
export function partRow(answer: NetworkAnswer, index: SiteIndex, book: NameBook, part: number): PartRow {
  const address = writePartAddress(partAddressAt(index, part))
  const atM = partPositionM(index, part) ?? { x: 0, y: 0 }
  return {
    address,
    label: namePart(book, address),
    kind: partKindNames[partKindAt(index, part)],
    xM: atM.x,
    yM: atM.y,
    metalSection: answer.metalSection[part],
    electricalIsland: answer.electricalIsland[part],
  }
}

/** What is known of one joint that is counted, by the number of its edge. */
export function jointRow(answer: NetworkAnswer, index: SiteIndex, edge: number): JointRow {
  const part = (node: number) => writePartAddress(partAddressAt(index, node))
  return {
    address: jointAddressOf(answer, index, edge),
    kind: answer.kindNames[answer.kind[edge]],
    from: part(answer.from[edge]),
    to: part(Math.min(answer.to[edge], answer.partCount)),
    medianOhm: answer.medianOhm[edge],
    lnSpread: answer.lnSpread[edge],
    defectRate: answer.defectRate[edge],
    leverage: answer.leverage[edge],
    soundOhm: answer.soundOhm[edge],
    openOhm: answer.openOhm[edge],
    metalBridge: answer.isMetalBridge[edge] === 1,
  }
}

export function jointAddressOf(
  answer: Pick<NetworkAnswer, 'jointOfEdge'>,
  index: SiteIndex,
  edge: number,
): string {
  return writeJointAddress(jointAddressAt(index, answer.jointOfEdge[edge]))
}
