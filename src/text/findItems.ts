import { wholly } from '../base/portion.ts'
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

/** As `itemsInPortions`, in one go. */
export function findableItems(index: SiteIndex, book: NameBook): readonly FindableItem[] {
  return wholly(itemsInPortions(index, book))
}

/** Items made between two pauses: a millisecond of work or so. */
const itemsPerPortion = 64

/**
 * Equipment, conductors point by point, and joints that belong to neither table nor row. O(items). Yields how many
 * there are so far.
 */
export function* itemsInPortions(
  index: SiteIndex,
  book: NameBook,
): Generator<number, readonly FindableItem[]> {
  const found: FindableItem[] = []
  for (const { kind, address, sort, name, label } of namedItems(index, book)) {
    if (found.length === mostItems) break
    found.push({
      kind,
      address,
      sort,
      name,
      nameKey: tokenKey(findTokens(name)),
      addressKey: tokenKey(findTokens(address)),
      painted: printable(label).trim().toLowerCase(),
    })
    if (found.length % itemsPerPortion === 0) yield found.length
  }
  return found
}

interface NamedItem extends Pick<FindableItem, 'kind' | 'address' | 'sort' | 'name'> {
  readonly label: string
}

function* namedItems(index: SiteIndex, book: NameBook): Generator<NamedItem> {
  const { drawing } = index
  const { words } = book
  const part = (address: string, sort: string, label: string): NamedItem => ({
    kind: 'part',
    address,
    sort,
    name: namePart(book, address),
    label,
  })
  const joint = (address: string, sort: string, label = ''): NamedItem => ({
    kind: 'joint',
    address,
    sort,
    name: nameJoint(book, address),
    label,
  })
  for (const { id, label } of drawing.enclosures)
    yield part(writePartAddress({ at: 'enclosure', id }), 'enclosure', label)
  for (const { id, label } of drawing.earthBars)
    yield part(writePartAddress({ at: 'earthBar', id }), words.earthBar, label)
  for (const { id, label } of drawing.electrodes)
    yield part(writePartAddress({ at: 'electrode', id }), words.electrode, label)
  for (const conductor of drawing.conductors) yield* conductorItems(book, conductor)
  for (const { id, label } of drawing.extraJoints) yield joint(`J${id}`, 'extra joint', label)
  for (const at of index.addedJoints) yield joint(`A${drawing.asBuilt[at].id}`, 'joint found as built')
  for (const { id } of drawing.electrodes) yield joint(`G${id}~earth`, words.earthPath)
}

/** Names as `namePart` and `nameJoint` write them, in one pass along the conductor. */
function* conductorItems(book: NameBook, conductor: Conductor): Generator<NamedItem> {
  const { id, label, points, closed } = conductor
  const named = nameConductor(book, id)
  const stops = conductorStops(conductor).map((at) => points[at])
  const places: string[] = []
  for (const point of stops) {
    const address = `C${id}.${point.id}`
    const place = nameConductorPoint(book, point, point.id)
    places.push(place)
    yield { kind: 'part', address, sort: 'point of a conductor', name: `${named} at ${place}`, label }
  }
  for (const [k, point] of stops.entries()) {
    const address = `C${id}.${point.id}`
    const lug = `lug of ${named} at ${places[k]}`
    if (point.landing) yield { kind: 'joint', address: `${address}~lug`, sort: 'lug', name: lug, label: '' }
    const isLast = k === stops.length - 1
    if (isLast && !closed) continue
    const next = isLast || (closed && !stops[k + 1].landing) ? 0 : k + 1
    const wire = `${named} from ${places[k]} to ${places[next]}`
    yield { kind: 'joint', address: `${address}~wire`, sort: 'wire', name: wire, label: '' }
  }
}
