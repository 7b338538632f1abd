import { findTokens } from '../../layout/findTokens.ts'
import { jointIndexOf } from '../../layout/jointIndex.ts'
import { partIndexOf } from '../../layout/partIndex.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import {
  parseJointAddress,
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
} from '../../model/address.ts'
import type { PartAddress } from '../../model/address.ts'
import { nearestPart } from '../../model/presence.ts'
import { byId } from '../../model/queries/byId.ts'
import { PlaceFinder } from '../../text/findPlaces.ts'
import { namePart } from '../../text/partNames.ts'
import { openNameBook, type NameBook } from '../../text/places.ts'

/**
 * What stands at the ends: addresses such as R3/T7/F2.14, or names and painted labels, or either. With `either`, what is an address
 * and the painted label of something else is not clear.
 */
export type EndsAre = 'either' | 'addresses' | 'names'

export type EndMatch =
  | { readonly ok: true; readonly address: string }
  | {
      readonly ok: false
      readonly why: 'unknown' | 'ambiguous'
      /** Names with addresses of what it may mean, or of what comes nearest. */
      readonly near: readonly string[]
    }

const mostNear = 3
/** Search for what comes nearest is the slow part; nobody reads it of more lines than this. */
const mostHelped = 200

/** Finds the parts of one drawing that the ends of a list name. Each text is looked up once. */
export class EndMatcher {
  readonly #index: SiteIndex
  readonly #book: NameBook
  readonly #finder: PlaceFinder
  readonly #endsAre: EndsAre
  readonly #known = new Map<string, EndMatch>()
  #helped = 0

  constructor(index: SiteIndex, endsAre: EndsAre) {
    this.#index = index
    this.#book = openNameBook(index.drawing)
    this.#finder = new PlaceFinder(index, this.#book)
    this.#endsAre = endsAre
  }

  /** Makes what names are looked up in; pauses every few milliseconds. */
  prepare(): Generator<void, void> {
    return this.#finder.prepare()
  }

  /** The part that a text means. Cost O(1) for an address, that of a search for a name that is new. */
  part(text: string): EndMatch {
    const key = text.trim()
    let match = this.#known.get(key)
    if (match === undefined) {
      match = this.#look(key)
      this.#known.set(key, match)
    }
    return match
  }

  /** The joint that a text is the address of; null for none. */
  joint(text: string): string | null {
    const joint = parseJointAddress(written(text))
    return joint && jointIndexOf(this.#index, joint) >= 0 ? writeJointAddress(joint) : null
  }

  #look(text: string): EndMatch {
    const earth = new Set(['earth', this.#book.words.remoteEarth.toLowerCase()])
    if (earth.has(text.toLowerCase())) return { ok: true, address: 'earth' }
    const address = this.#endsAre === 'names' ? null : parsePartAddress(written(text))
    if (address && address.at !== 'remoteEarth') {
      const isThere = partIndexOf(this.#index, address) >= 0
      if (this.#endsAre === 'addresses') return isThere ? found(address) : this.#unknown(text, address)
      const painted = this.#paintedLike(address)
      if (isThere && painted.length === 0 && address.at === 'table') return found(address)
      if (painted.length > 0) {
        const own = isThere ? [writePartAddress(address)] : []
        return { ok: false, why: 'ambiguous', near: [...own.map(this.#told), ...painted].slice(0, mostNear) }
      }
      if (!isThere && address.at === 'table') return this.#unknown(text, address)
    }
    if (this.#endsAre === 'addresses') return this.#unknown(text, address)
    const meant = this.#finder.partsMeant(text)
    if (meant.length === 1) return { ok: true, address: meant[0] }
    if (meant.length > 1)
      return { ok: false, why: 'ambiguous', near: meant.slice(0, mostNear).map(this.#told) }
    return this.#unknown(text, address)
  }

  readonly #told = (address: string) => `${namePart(this.#book, address)} (${address})`

  /** Rows and tables with another number whose painted label reads like those of the address. */
  #paintedLike(address: PartAddress): readonly string[] {
    if (address.at !== 'table') return []
    const { row, table } = address
    const rows = this.#index.drawing.rows
      .filter(({ id, label }) => id !== row && isLabel(label, 'row', row))
      .map(({ id, label }) => `${label.trim()} (R${id})`)
    const labels = Object.entries(byId(this.#index.drawing.rows).get(row)?.tableLabels ?? {})
    const tables = labels
      .filter(([id, label]) => Number(id) !== table && isLabel(label, 'table', table))
      .map(([id, label]) => `${label.trim()} (R${row}/T${id})`)
    return [...rows, ...tables]
  }

  #unknown(text: string, address: PartAddress | null): EndMatch {
    const nearest = address && nearestPart(this.#index.drawing, address)
    if (nearest) return { ok: false, why: 'unknown', near: [this.#told(nearest)] }
    if (++this.#helped > mostHelped) return { ok: false, why: 'unknown', near: [] }
    const { places } = this.#finder.find(text, 'parts', mostNear)
    const near = places.flatMap((place) => (place.kind === 'part' ? [this.#told(place.address)] : []))
    return { ok: false, why: 'unknown', near }
  }
}

const found = (address: PartAddress): EndMatch => ({ ok: true, address: writePartAddress(address) })

/** `3`, `R3`, `row 3`: labels that somebody may write as R3. */
function isLabel(label: string, word: 'row' | 'table', number: number): boolean {
  const tokens = findTokens(label)
  const rest = tokens[0] === word || tokens[0] === word[0] ? tokens.slice(1) : tokens
  return rest.length === 1 && rest[0] === String(number)
}

/** An address as the program writes it: `r04/t6 / f1.02` is `R4/T6/F1.2`. */
function written(text: string): string {
  const plain = text.replace(/\s+/g, '').replace(/(?<![\d])0+(?=\d)/g, '')
  return plain.replace(/[a-z](?=\d)/g, (letter) => letter.toUpperCase())
}
