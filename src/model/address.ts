/**
 * Addresses name parts and joints in words that stay the same while the drawing changes around them.
 * Rows, tables, conductors … carry stored ids; below a table stand function and position in its type.
 *
 *   part                                   joint
 *   R3/T7/F2.14  frame, 2nd row up, 14th   R3/T7/F2.14~L3.15   between two parts of one table
 *   R3/T7/L3.15  long member 3, station 15 R3/T7/X2~P1.2~2     the second of two parallel ones
 *   R3/T7/X2     cross member 2            R3/T7+T8~1          first jumper between two tables
 *   R3/T7/P1.2   post 2 in line 1          C5.2~lug            conductor 5 at its point 2
 *   E1 B1 G1     enclosure, bar, electrode C5.2~wire           from point 2 to the next landing
 *   C5.2         conductor 5, point 2      J4                  extra joint 4
 *   earth        remote earth              A2                  joint found as as-built difference 2
 *                                          G1~earth            earth path of an electrode or post
 *
 * The ends of a table's joint are written in the order frame, long member, cross member, post, and of two
 * alike the one with the lower numbers first; read in either order, they name the same joint.
 */
export type LocalPart =
  | { readonly of: 'frame'; readonly high: number; readonly across: number }
  | { readonly of: 'longMember'; readonly member: number; readonly station: number }
  | { readonly of: 'crossMember'; readonly position: number }
  | { readonly of: 'post'; readonly line: number; readonly position: number }

export type PartAddress =
  | { readonly at: 'table'; readonly row: number; readonly table: number; readonly part: LocalPart }
  | { readonly at: 'enclosure' | 'earthBar' | 'electrode'; readonly id: number }
  | { readonly at: 'conductor'; readonly id: number; readonly point: number }
  | { readonly at: 'remoteEarth' }

export type JointAddress =
  | {
      readonly at: 'table'
      readonly row: number
      readonly table: number
      readonly from: LocalPart
      readonly to: LocalPart
      /** 1 for the first of parallel joints; only 2 and above are written. */
      readonly parallel: number
    }
  | {
      readonly at: 'row'
      readonly row: number
      readonly tableBefore: number
      readonly tableAfter: number
      readonly jumper: number
    }
  | { readonly at: 'lug' | 'wire'; readonly conductor: number; readonly point: number }
  | { readonly at: 'extra' | 'asBuilt'; readonly id: number }
  | { readonly at: 'earthPath'; readonly part: PartAddress }

// As many as a stored id may have (`storedId` in schema/primitives.ts): up to 2 000 000 000, no leading zero.
const number = '([1-9][0-9]{0,8}|1[0-9]{9}|2000000000)'
const framePattern = new RegExp(`^F${number}\\.${number}$`)
const longPattern = new RegExp(`^L${number}\\.${number}$`)
const crossPattern = new RegExp(`^X${number}$`)
const postPattern = new RegExp(`^P${number}\\.${number}$`)
const tablePattern = new RegExp(`^R${number}/T${number}/(.+)$`)
const itemPattern = new RegExp(`^([EBG])${number}$`)
const pointPattern = new RegExp(`^C${number}\\.${number}$`)
const rowJointPattern = new RegExp(`^R${number}/T${number}\\+T${number}~([12])$`)
const conductorJointPattern = new RegExp(`^C${number}\\.${number}~(lug|wire)$`)
const singleJointPattern = new RegExp(`^([JA])${number}$`)

const itemOfLetter = { E: 'enclosure', B: 'earthBar', G: 'electrode' } as const
const letterOfItem = { enclosure: 'E', earthBar: 'B', electrode: 'G' } as const

function parseLocalPart(text: string): LocalPart | null {
  let m = framePattern.exec(text)
  if (m) return { of: 'frame', high: Number(m[1]), across: Number(m[2]) }
  m = longPattern.exec(text)
  if (m) return { of: 'longMember', member: Number(m[1]), station: Number(m[2]) }
  m = crossPattern.exec(text)
  if (m) return { of: 'crossMember', position: Number(m[1]) }
  m = postPattern.exec(text)
  if (m) return { of: 'post', line: Number(m[1]), position: Number(m[2]) }
  return null
}

export function writeLocalPart(part: LocalPart): string {
  switch (part.of) {
    case 'frame':
      return `F${part.high}.${part.across}`
    case 'longMember':
      return `L${part.member}.${part.station}`
    case 'crossMember':
      return `X${part.position}`
    case 'post':
      return `P${part.line}.${part.position}`
  }
}

const functions = { frame: 0, longMember: 1, crossMember: 2, post: 3 } as const

/** Order of a table's parts: frames, long members, cross members, posts; each by its numbers. */
export function compareLocalParts(a: LocalPart, b: LocalPart): number {
  const numbers = (part: LocalPart): readonly [number, number] => {
    switch (part.of) {
      case 'frame':
        return [part.high, part.across]
      case 'longMember':
        return [part.member, part.station]
      case 'crossMember':
        return [part.position, 0]
      case 'post':
        return [part.line, part.position]
    }
  }
  const [a1, a2] = numbers(a)
  const [b1, b2] = numbers(b)
  return functions[a.of] - functions[b.of] || a1 - b1 || a2 - b2
}

/** Reads a part address; null when the text has no such form (whether the part exists is another question). */
export function parsePartAddress(text: string): PartAddress | null {
  if (text === 'earth') return { at: 'remoteEarth' }
  const item = itemPattern.exec(text)
  if (item) return { at: itemOfLetter[item[1] as 'E' | 'B' | 'G'], id: Number(item[2]) }
  const point = pointPattern.exec(text)
  if (point) return { at: 'conductor', id: Number(point[1]), point: Number(point[2]) }
  const table = tablePattern.exec(text)
  if (!table) return null
  const part = parseLocalPart(table[3])
  return part && { at: 'table', row: Number(table[1]), table: Number(table[2]), part }
}

export function writePartAddress(address: PartAddress): string {
  switch (address.at) {
    case 'table':
      return `R${address.row}/T${address.table}/${writeLocalPart(address.part)}`
    case 'conductor':
      return `C${address.id}.${address.point}`
    case 'remoteEarth':
      return 'earth'
    default:
      return `${letterOfItem[address.at]}${address.id}`
  }
}

/** Reads a joint address, its ends put in order; null when the text has no such form. */
export function parseJointAddress(text: string): JointAddress | null {
  const single = singleJointPattern.exec(text)
  if (single) return { at: single[1] === 'J' ? 'extra' : 'asBuilt', id: Number(single[2]) }
  const inRow = rowJointPattern.exec(text)
  if (inRow) {
    const [row, tableBefore, tableAfter, jumper] = inRow.slice(1).map(Number)
    return { at: 'row', row, tableBefore, tableAfter, jumper }
  }
  const onConductor = conductorJointPattern.exec(text)
  if (onConductor) {
    return {
      at: onConductor[3] as 'lug' | 'wire',
      conductor: Number(onConductor[1]),
      point: Number(onConductor[2]),
    }
  }
  if (text.endsWith('~earth')) {
    const part = parsePartAddress(text.slice(0, -'~earth'.length))
    return part && part.at !== 'remoteEarth' ? { at: 'earthPath', part } : null
  }
  const table = tablePattern.exec(text)
  if (!table) return null
  const pieces = table[3].split('~')
  if (pieces.length < 2 || pieces.length > 3) return null
  const one = parseLocalPart(pieces[0])
  const other = parseLocalPart(pieces[1])
  const parallel = pieces.length === 3 ? /^[2-9]$/.exec(pieces[2]) : ['1']
  if (!one || !other || !parallel) return null
  const order = compareLocalParts(one, other)
  if (order === 0) return null
  const [from, to] = order < 0 ? [one, other] : [other, one]
  return {
    at: 'table',
    row: Number(table[1]),
    table: Number(table[2]),
    from,
    to,
    parallel: Number(parallel[0]),
  }
}

export function writeJointAddress(address: JointAddress): string {
  switch (address.at) {
    case 'table': {
      const ends = `${writeLocalPart(address.from)}~${writeLocalPart(address.to)}`
      const parallel = address.parallel > 1 ? `~${address.parallel}` : ''
      return `R${address.row}/T${address.table}/${ends}${parallel}`
    }
    case 'row':
      return `R${address.row}/T${address.tableBefore}+T${address.tableAfter}~${address.jumper}`
    case 'lug':
    case 'wire':
      return `C${address.conductor}.${address.point}~${address.at}`
    case 'extra':
      return `J${address.id}`
    case 'asBuilt':
      return `A${address.id}`
    case 'earthPath':
      return `${writePartAddress(address.part)}~earth`
  }
}
