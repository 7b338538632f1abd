import { parseJointAddress, writePartAddress, type JointAddress, type LocalPart } from '../model/address.ts'
import { typeOfTable } from '../model/presence.ts'
import { byId } from '../model/queries/byId.ts'
import type { Conductor } from '../model/schema/equipment.ts'
import {
  nameConductor,
  nameConductorPoint,
  nameLocalPart,
  nameMember,
  namePair,
  namePart,
} from './partNames.ts'
import { nameRow, nameStation, nameTable, type NameBook } from './places.ts'
import { ordinal } from './units.ts'
import { printable } from './where.ts'

type TableJoint = Extract<JointAddress, { at: 'table' }>
type RowJoint = Extract<JointAddress, { at: 'row' }>

/** A joint as a technician would call it, without its address: `jumper between table 3 and table 4 of row 2`. */
export function nameJoint(book: NameBook, address: string): string {
  const joint = parseJointAddress(address)
  if (!joint) return `joint ${printable(address)}`
  switch (joint.at) {
    case 'table':
      return `${nameTableJoint(book, joint)}, ${nameTable(book, joint.row, joint.table)}, ${nameRow(book, joint.row)}`
    case 'row':
      return nameRowJoint(book, joint)
    case 'lug':
    case 'wire':
      return nameConductorJoint(book, joint.conductor, joint.point, joint.at)
    case 'extra':
      return nameExtraJoint(book, joint.id)
    case 'asBuilt':
      return nameFoundJoint(book, joint.id)
    case 'earthPath':
      return `${book.words.earthPath} of ${namePart(book, writePartAddress(joint.part))}`
  }
}

/** The same with the address behind it, which the screen and the drawing know it by. */
export function nameJointAt(book: NameBook, address: string): string {
  return `${nameJoint(book, address)} (${printable(address)})`
}

/** The name of a joint kind as the site's catalogue has it. */
export function nameKind(book: NameBook, kind: string): string {
  return printable(byId(book.drawing.jointKinds).get(kind)?.name ?? kind)
}

function nameTableJoint(book: NameBook, joint: TableJoint): string {
  const which = joint.parallel > 1 ? `${ordinal(joint.parallel)} ` : ''
  return which + nameBetween(book, joint)
}

// The ends come as an address orders them: frame, long member, cross member, post.
function nameBetween(book: NameBook, joint: TableJoint): string {
  const { from: a, to: b } = joint
  const type = typeOfTable(book.drawing, joint.row, joint.table)
  const name = (part: LocalPart) => nameLocalPart(book, part, joint.row, joint.table)
  if (a.of === 'frame' && b.of === 'frame') return `link between ${name(a)} and ${name(b)}`
  if (a.of === 'frame' && b.of === 'longMember') {
    const clamp = `clamp of ${name(a)} on ${nameMember(book, b.member, type)}`
    const isOneOfTwo = type?.frameBond.clamps?.perMember === 2
    return isOneOfTwo ? `${clamp} ${nameStation(b.station, type.modules.across)}` : clamp
  }
  if (a.of === 'longMember' && b.of === 'longMember') {
    if (a.member !== b.member) return `joint between ${name(a)} and ${name(b)}`
    const station = Math.min(a.station, b.station)
    const isSplice = type?.longMembers[a.member - 1]?.spliceAfter.includes(station) ?? false
    return `${isSplice ? 'splice' : 'metal'} of ${nameMember(book, a.member, type)} along module ${station}`
  }
  if (a.of === 'longMember' && b.of === 'crossMember')
    return `bracket of ${nameMember(book, a.member, type)} on ${name(b)}`
  if (b.of === 'post') {
    const structure = a.of === 'longMember' ? nameMember(book, a.member, type) : name(a)
    return `bond of ${name(b)} to ${structure}`
  }
  return `joint between ${name(a)} and ${name(b)}`
}

function nameRowJoint(book: NameBook, { row, tableBefore, tableAfter, jumper }: RowJoint): string {
  const isOneOfTwo = byId(book.drawing.rows).get(row)?.links.count === 2
  const on = isOneOfTwo ? ` on the ${jumper === 1 ? 'first' : 'last'} ${book.words.longMember}` : ''
  const before = nameTable(book, row, tableBefore)
  const after = nameTable(book, row, tableAfter)
  return `jumper${on} between ${before} and ${after} of ${nameRow(book, row)}`
}

function nameConductorJoint(book: NameBook, id: number, point: number, at: 'lug' | 'wire'): string {
  const points = byId(book.drawing.conductors).get(id)?.points ?? []
  const index = points.findIndex((candidate) => candidate.id === point)
  const place = nameConductorPoint(book, points[index], point)
  if (at === 'lug') return `lug of ${nameConductor(book, id)} at ${place}`
  const next = nextPart(byId(book.drawing.conductors).get(id), index)
  const end = next ? ` to ${nameConductorPoint(book, next, next.id)}` : ''
  return `${nameConductor(book, id)} from ${place}${end}`
}

/** A wire runs to the next point that is a part: a landing, or the last point; a closed one comes back to its first. */
function nextPart(conductor: Conductor | undefined, index: number): Conductor['points'][number] | undefined {
  if (!conductor || index < 0) return undefined
  const later = conductor.points.slice(index + 1)
  const landing = later.find(({ landing }) => landing !== null)
  return landing ?? (conductor.closed ? conductor.points[0] : later.at(-1))
}

function nameExtraJoint(book: NameBook, id: number): string {
  const drawn = byId(book.drawing.extraJoints).get(id)
  if (!drawn) return `extra joint ${id}`
  const label = printable(drawn.label).trim() || `extra joint ${id}`
  return `${label} between ${namePair(book, drawn.from, drawn.to, 'and')}`
}

function nameFoundJoint(book: NameBook, id: number): string {
  const found = byId(book.drawing.asBuilt).get(id)?.found
  if (found?.form !== 'jointAdded') return `joint of as-built difference ${id}`
  return `joint found between ${namePair(book, found.from, found.to, 'and')}`
}
