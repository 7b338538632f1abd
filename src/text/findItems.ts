import { findTokens, tokenKey } from '../layout/findTokens.ts'
import type { TokenKey } from '../layout/findTokens.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { conductorStops } from '../model/countJoints.ts'
import { writePartAddress } from '../model/address.ts'
import type { Conductor } from '../model/schema/equipment.ts'
import { nameJoint } from './jointNames.ts'
import { nameConductor, nameConductorPoint, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { printable } from './where.ts'

/** Something that is drawn by itself, not as one of a table's parts. */
export interface FindableItem {
  readonly kind: 'part' | 'joint'
  readonly address: string
  /** What sort of thing it is, which its label need not say. */
  readonly sort: string
  readonly name: string
  readonly nameKey: TokenKey
  readonly addressKey: TokenKey
  /** Its label as it is painted, in small letters; empty where there is none. */
  readonly painted: string
}

/** Beyond these only rows, tables and their parts are searched by name; any address is still found. */
export const mostItems = 200_000

/** Equipment, conductors point by point, and joints that belong to neither table nor row. O(items). */
export function findableItems(index: SiteIndex, book: NameBook): readonly FindableItem[] {
  const { drawing } = index
  const found: FindableItem[] = []
  const add = (kind: FindableItem['kind'], address: string, sort: string, name: string, label = '') => {
    if (found.length >= mostItems) return
    found.push({
      kind,
      address,
      sort,
      name,
      nameKey: tokenKey(findTokens(name)),
      addressKey: tokenKey(findTokens(address)),
      painted: printable(label).trim().toLowerCase(),
    })
  }
  const addPart = (address: string, sort: string, label: string) =>
    add('part', address, sort, namePart(book, address), label)
  for (const { id, label } of drawing.enclosures)
    addPart(writePartAddress({ at: 'enclosure', id }), 'enclosure', label)
  for (const { id, label } of drawing.earthBars)
    addPart(writePartAddress({ at: 'earthBar', id }), book.words.earthBar, label)
  for (const { id, label } of drawing.electrodes)
    addPart(writePartAddress({ at: 'electrode', id }), book.words.electrode, label)
  for (const conductor of drawing.conductors) addConductor(book, conductor, add)
  for (const { id, label } of drawing.extraJoints) {
    add('joint', `J${id}`, 'extra joint', nameJoint(book, `J${id}`), label)
  }
  for (const at of index.addedJoints) {
    const address = `A${drawing.asBuilt[at].id}`
    add('joint', address, 'joint found as built', nameJoint(book, address))
  }
  for (const { id } of drawing.electrodes) {
    add('joint', `G${id}~earth`, book.words.earthPath, nameJoint(book, `G${id}~earth`))
  }
  return found
}

type Add = (kind: FindableItem['kind'], address: string, sort: string, name: string, label?: string) => void

/** Names as `namePart` and `nameJoint` write them, in one pass along the conductor. */
function addConductor(book: NameBook, conductor: Conductor, add: Add): void {
  const { id, label, points, closed } = conductor
  const name = nameConductor(book, id)
  const stops = conductorStops(conductor).map((at) => points[at])
  const places = stops.map((point) => nameConductorPoint(book, point, point.id))
  stops.forEach((point, k) => {
    const address = `C${id}.${point.id}`
    add('part', address, 'point of a conductor', `${name} at ${places[k]}`, label)
  })
  stops.forEach((point, k) => {
    const address = `C${id}.${point.id}`
    if (point.landing) add('joint', `${address}~lug`, 'lug', `lug of ${name} at ${places[k]}`)
    const isLast = k === stops.length - 1
    if (isLast && !closed) return
    const next = isLast || (closed && !stops[k + 1].landing) ? 0 : k + 1
    add('joint', `${address}~wire`, 'wire', `${name} from ${places[k]} to ${places[next]}`)
  })
}
