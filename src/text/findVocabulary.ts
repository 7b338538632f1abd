import { wholly } from '../base/portion.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { findTokens, fitOf, tokenKey, wantedOf } from '../layout/findTokens.ts'
import { fits, type Fit, type TokenKey, type Wanted } from '../layout/findTokens.ts'
import { localPartAt } from '../layout/localParts.ts'
import { writeLocalPart } from '../model/address.ts'
import { nameJoint } from './jointNames.ts'
import { nameLocalPart } from './partNames.ts'
import { nameRow, nameTable, type NameBook } from './places.ts'

/** What the parts or joints of one table type are called, without their table: the same in each of its tables. */
export interface Vocabulary {
  readonly names: readonly string[]
  /** Addresses within the table: `F2.14`, `F2.14~L3.15`, `P1.2~earth`. */
  readonly addresses: readonly string[]
  readonly nameKeys: readonly TokenKey[]
  readonly addressKeys: readonly TokenKey[]
}

export interface TypeVocabulary {
  readonly parts: Vocabulary
  readonly joints: Vocabulary
}

/** Numbers in the vocabulary that fit, best first, then in pattern order. */
export interface LocalSelection {
  readonly locals: readonly number[]
  readonly fit: readonly Fit[]
}

/** As `vocabularyInPortions`, in one go. */
export function typeVocabulary(index: SiteIndex, book: NameBook, type: number): TypeVocabulary | null {
  return wholly(vocabularyInPortions(index, book, type))
}

/** Names made between two pauses: a millisecond of work or so. */
const namesPerPortion = 32

/**
 * Names of a table type of the drawing, null where no row uses it. O(parts + joints of one table). Yields how many
 * there are so far.
 */
export function* vocabularyInPortions(
  index: SiteIndex,
  book: NameBook,
  type: number,
): Generator<number, TypeVocabulary | null> {
  const pattern = index.patterns[type]
  const run = index.rows.runs.type.indexOf(type)
  if (!pattern || run < 0) return null
  const row = index.drawing.rows[index.rows.runs.row[run]].id
  const table = index.rows.runs.firstTable[run]
  const ending = `, ${nameTable(book, row, table)}, ${nameRow(book, row)}`
  const places = Array.from({ length: pattern.partCount }, (_, local) => localPartAt(pattern, local))
  const written = places.map(writeLocalPart)
  const joints = Array.from({ length: pattern.jointCount }, (_, joint) => {
    const to = pattern.to[joint] < 0 ? 'earth' : written[pattern.to[joint]]
    const parallel = pattern.parallel[joint] > 1 ? `~${pattern.parallel[joint]}` : ''
    return `${written[pattern.from[joint]]}~${to}${parallel}`
  })
  yield 0
  const nameOfPart = (local: number) => nameLocalPart(book, places[local], row, table)
  const nameOfJoint = (joint: number) =>
    nameJoint(book, `R${row}/T${table}/${joints[joint]}`).slice(0, -ending.length)
  return {
    parts: yield* vocabularyOf(written, nameOfPart),
    joints: yield* vocabularyOf(joints, nameOfJoint),
  }
}

function* vocabularyOf(
  addresses: readonly string[],
  nameOf: (local: number) => string,
): Generator<number, Vocabulary> {
  const names: string[] = []
  const nameKeys: TokenKey[] = []
  const addressKeys: TokenKey[] = []
  for (const [local, address] of addresses.entries()) {
    const name = nameOf(local)
    names.push(name)
    nameKeys.push(tokenKey(findTokens(name)))
    addressKeys.push(tokenKey(findTokens(address)))
    if (names.length % namesPerPortion === 0) yield names.length
  }
  return { names, addresses, nameKeys, addressKeys }
}

/** What of a vocabulary fits; all of it, as well as may be, where nothing is looked for. */
export function selectLocals({ names, nameKeys, addressKeys }: Vocabulary, wanted: Wanted): LocalSelection {
  if (wanted.tokens.length === 0) return { locals: [...names.keys()], fit: names.map(() => fits.begins) }
  const found = names.flatMap((_, local) => {
    const fit = Math.min(fitOf(nameKeys[local], wanted), addressFit(addressKeys[local], wanted)) as Fit
    return fit === fits.none ? [] : [{ local, fit }]
  })
  found.sort((a, b) => a.fit - b.fit || a.local - b.local)
  return { locals: found.map(({ local }) => local), fit: found.map(({ fit }) => fit) }
}

/** Addresses are read from the front only: the numbers in their middle say nothing alone. */
function addressFit(key: TokenKey, wanted: Wanted): Fit {
  const fit = fitOf(key, wanted)
  return fit === fits.holds ? fits.none : fit
}

export const nothingWanted = wantedOf([], false)
