import { findTokens, fitOf, fitOfId, fits, isOpenText, wantedOf } from '../layout/findTokens.ts'
import type { Fit, Wanted } from '../layout/findTokens.ts'
import { openTableBook, rowFits, selectTables, tableBookInPortions, tableIds } from '../layout/findTables.ts'
import type { TableBook, TableSelection, WantedLine } from '../layout/findTables.ts'
import { findId } from '../layout/idLookup.ts'
import { jointIndexOf } from '../layout/jointIndex.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import { tableById } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parseJointAddress, parsePartAddress, writeJointAddress, writePartAddress } from '../model/address.ts'
import { better, byFit, nothing, sure, weaker } from './findCatch.ts'
import type { Catch, FoundPlace } from './findCatch.ts'
import { findableItems, itemsInPortions, type FindableItem } from './findItems.ts'
import { findJumpers } from './findJumpers.ts'
import { localSplits, placesMeant, readable, readingMeant } from './findQuery.ts'
import type { LocalSplit, WantedPlace } from './findQuery.ts'
import { nothingWanted, selectLocals, typeVocabulary, vocabularyInPortions } from './findVocabulary.ts'
import type { LocalSelection, TypeVocabulary } from './findVocabulary.ts'
import type { NameBook } from './places.ts'

/** A reading of the record by the number that all sentences use. */
export interface NumberedReading {
  readonly number: number
  readonly entry: string
}

export interface Findings {
  /** The best few, best first. */
  readonly places: readonly FoundPlace[]
  /** How many more fit. */
  readonly further: number
  /** Whether the first is exactly what was typed, but for capitals, spaces and zeros. */
  readonly isSure: boolean
}

export type FindScope = 'everything' | 'parts'

/** Rows and tables that are remembered while a list of names is gone through. */
const mostKept = 200
const inItsRow = /\(\p{N}+(st|nd|rd|th) in its row\)/gu

/**
 * Finds rows, tables, parts, joints and readings of one drawing by what they are called, by what is painted on
 * them or by their address. Names of a table's parts are kept once per table type, so that a search costs
 * O(tables + labels + drawn items), whatever the number of frames and joints.
 */
export class PlaceFinder {
  readonly index: SiteIndex
  readonly names: NameBook
  readonly #readings: () => readonly NumberedReading[]
  readonly #vocabularies = new Map<number, TypeVocabulary | null>()
  #tables: TableBook | null = null
  #items: readonly FindableItem[] | null = null
  /** Tables that were looked for in one search: several ways to read the words ask for the same ones. */
  readonly #selections = new Map<string, TableSelection>()

  /** Costs nothing: what is looked through is made at the first search. */
  constructor(index: SiteIndex, names: NameBook, readings: () => readonly NumberedReading[] = () => []) {
    this.index = index
    this.names = names
    this.#readings = readings
  }

  /** The best `most` of what was typed; nothing for an empty text. */
  find(typed: string, scope: FindScope = 'everything', most = 8): Findings {
    const raw = typed.replace(inItsRow, ' ').slice(0, 400)
    const tokens = readable(findTokens(raw))
    if (tokens.length === 0) return { places: [], further: 0, isSure: false }
    const isOpen = isOpenText(raw)
    const found = this.#search(wantedOf(tokens, isOpen), raw, scope, most)
    // the last token may be the beginning of a word that only joins others, or of a number with a zero before it
    const isUnfinished = isOpen && tokens.length > 1 && /^(\p{L}|0$)/u.test(tokens.at(-1)!)
    if (found.places.length > 0 || !isUnfinished) return found
    return { ...this.#search(wantedOf(tokens.slice(0, -1), false), raw, scope, most), isSure: false }
  }

  /**
   * Addresses of parts that a whole name, label or address means, in whatever way its words can be read: more than one where
   * it may mean several. At most `most`.
   */
  partsMeant(written: string, most = 4): readonly string[] {
    const raw = written.replace(inItsRow, ' ').slice(0, 400)
    const tokens = readable(findTokens(raw))
    if (tokens.length === 0) return []
    const wanted = wantedOf(tokens, false)
    // a list names the same rows again and again
    if (this.#selections.size > mostKept) this.#forgetSelections()
    const found = new Set<string>()
    const take = ({ best }: Catch) => {
      for (const { fit, place } of best)
        if (fit <= fits.same && place.kind === 'part') found.add(place.address)
    }
    take(this.#sureItems(raw, 'parts'))
    take(this.#itemsMeant(wanted, 'parts', most))
    for (const { local, rest } of localSplits(wanted)) {
      const ofType = rest.tokens.length === 0 ? [] : this.#ofTypes(local, 'parts')
      if (ofType.every((selection) => selection === null)) continue
      for (const place of placesMeant(rest)) {
        const tables = this.#select(place)
        if (tables.tables.length > 0) take(this.#combine(tables, ofType, 'parts', false, most))
      }
      if (found.size >= most) break
    }
    return [...found].slice(0, most)
  }

  /**
   * Makes what is looked through, so that the first letter is not slower than the next: pauses every few
   * milliseconds. A search that comes before the end makes for itself what is not there yet.
   */
  *prepare(): Generator<void, void> {
    if (this.#tables === null) {
      const made = yield* paused(tableBookInPortions(this.index))
      this.#tables ??= made
    }
    if (this.#items === null) {
      const made = yield* paused(itemsInPortions(this.index, this.names))
      this.#items ??= made
    }
    for (const type of this.index.patterns.keys()) {
      if (this.#vocabularies.has(type)) continue
      const made = yield* paused(vocabularyInPortions(this.index, this.names, type))
      if (!this.#vocabularies.has(type)) this.#vocabularies.set(type, made)
    }
    yield
    this.#select(null)
  }

  /** Equipment that a pair may begin or end at, before anything is typed. */
  equipment(most = 8): readonly FoundPlace[] {
    const isOwn = ({ kind, address }: FindableItem) => kind === 'part' && !address.startsWith('C')
    const places = this.#findable().filter(isOwn).slice(0, most)
    return places.map(({ kind, address }) => ({ kind, address }))
  }

  #search(wanted: Wanted, raw: string, scope: FindScope, most: number): Findings {
    this.#forgetSelections()
    const sorts =
      scope === 'parts'
        ? [
            this.#sureItems(raw, scope),
            this.#itemsMeant(wanted, scope, most),
            this.#locals(wanted, 'parts', true, most),
          ]
        : [
            this.#sureItems(raw, scope),
            this.#sureLines(raw),
            this.#rows(wanted, most),
            this.#tablesMeant(wanted, most),
            this.#itemsMeant(wanted, scope, most),
            this.#locals(wanted, 'parts', false, most),
            this.#locals(wanted, 'joints', false, most),
            findJumpers(this.#tableBook(), wanted, raw, most),
            this.#readingsMeant(wanted, most),
          ]
    return gather(sorts, most)
  }

  /** All tables are the same for every search. */
  #forgetSelections(): void {
    for (const key of this.#selections.keys()) if (key !== '') this.#selections.delete(key)
  }

  #select(place: WantedPlace | null): TableSelection {
    const key = place === null ? '' : `${lineText(place.row)}/${lineText(place.table)}`
    let made = this.#selections.get(key)
    if (made === undefined) {
      made = selectTables(this.#tableBook(), place?.row ?? null, place?.table ?? null)
      this.#selections.set(key, made)
    }
    return made
  }

  #tableBook(): TableBook {
    return (this.#tables ??= openTableBook(this.index))
  }

  #findable(): readonly FindableItem[] {
    return (this.#items ??= findableItems(this.index, this.names))
  }

  #vocabulary(type: number): TypeVocabulary | null {
    let made = this.#vocabularies.get(type)
    if (made === undefined) {
      made = typeVocabulary(this.index, this.names, type)
      this.#vocabularies.set(type, made)
    }
    return made
  }

  /** What the text is the address of, or the painted label of, as it stands. */
  #sureItems(raw: string, scope: FindScope): Catch {
    const text = writtenAddress(raw)
    const places: FoundPlace[] = []
    const part = parsePartAddress(text)
    if (part && part.at !== 'remoteEarth' && partIndexOf(this.index, part) >= 0)
      places.push({ kind: 'part', address: writePartAddress(part) })
    const joint = scope === 'parts' ? null : parseJointAddress(text)
    if (joint && jointIndexOf(this.index, joint) >= 0)
      places.push({ kind: 'joint', address: writeJointAddress(joint) })
    const painted = raw.trim().toLowerCase()
    for (const { kind, address, painted: label } of this.#findable()) {
      if (label === painted && (scope === 'everything' || kind === 'part')) places.push({ kind, address })
    }
    return sure(places)
  }

  #sureLines(raw: string): Catch {
    const { index } = this
    const book = this.#tableBook()
    const places: FoundPlace[] = []
    const m = /^R(\d+)(?:\/T(\d+))?$/.exec(writtenAddress(raw))
    const row = m ? findId(index.rows.ids, Number(m[1])) : -1
    if (m && row >= 0) {
      if (m[2] === undefined) places.push({ kind: 'row', row: Number(m[1]) })
      else if (tableById(index.rows, row, Number(m[2])))
        places.push({ kind: 'table', row: Number(m[1]), table: Number(m[2]) })
    }
    const painted = raw.trim().toLowerCase()
    for (const { id, label } of index.drawing.rows) {
      if (label.trim().toLowerCase() === painted) places.push({ kind: 'row', row: id })
    }
    for (const table of book.tablesPainted.get(painted) ?? [])
      places.push({ kind: 'table', ...tableIds(book, table) })
    return sure(places)
  }

  #rows(wanted: Wanted, most: number): Catch {
    const book = this.#tableBook()
    let best: Catch = nothing
    for (const { names, row } of placesMeant(wanted)) {
      if (names !== 'row') continue
      const places = rowFits(book, row).flatMap((fit, r) =>
        fit === fits.none
          ? []
          : [
              {
                fit: row ? fit : fits.begins,
                place: { kind: 'row', row: book.index.drawing.rows[r].id } as const,
              },
            ],
      )
      best = better(best, { count: places.length, best: byFit(places).slice(0, most) })
    }
    return best
  }

  #tablesMeant(wanted: Wanted, most: number): Catch {
    const book = this.#tableBook()
    let best: Catch = nothing
    for (const { names, row, table } of placesMeant(wanted)) {
      if (names === 'row') continue
      const { tables, fit } = this.#select({ row, table, names })
      const few = tables.slice(0, most).map((number, k) => ({
        fit: table ? fit[k] : (Math.max(fit[k], fits.begins) as Fit),
        place: { kind: 'table', ...tableIds(book, number) } as const,
      }))
      best = better(best, { count: tables.length, best: few })
    }
    return best
  }

  #itemsMeant(wanted: Wanted, scope: FindScope, most: number): Catch {
    const found: { fit: Fit; place: FoundPlace }[] = []
    for (const { kind, address, nameKey, addressKey } of this.#findable()) {
      if (scope === 'parts' && kind !== 'part') continue
      const byAddress = fitOf(addressKey, wanted)
      const fit = Math.min(fitOf(nameKey, wanted), byAddress === fits.holds ? fits.none : byAddress) as Fit
      if (fit !== fits.none) found.push({ fit, place: { kind, address } })
    }
    return { count: found.length, best: byFit(found).slice(0, most) }
  }

  /** Parts or joints of tables: of all that fit the words for the thing, in all tables that fit the rest. */
  #locals(wanted: Wanted, sort: keyof TypeVocabulary, isPlaceEnough: boolean, most: number): Catch {
    let best: Catch = nothing
    const splits: LocalSplit[] = [...localSplits(wanted)]
    if (isPlaceEnough) splits.push({ local: nothingWanted, rest: wanted })
    for (const { local, rest } of splits) {
      const ofType = this.#ofTypes(local, sort)
      if (ofType.every((selection) => selection === null)) continue
      const places: readonly (WantedPlace | null)[] = rest.tokens.length === 0 ? [null] : placesMeant(rest)
      for (const place of places) {
        const tables = this.#select(place)
        if (tables.tables.length === 0) continue
        best = better(best, this.#combine(tables, ofType, sort, place === null, most))
        if (best.best[0]?.fit === fits.same) return best
      }
    }
    return best
  }

  #ofTypes(local: Wanted, sort: keyof TypeVocabulary): readonly (LocalSelection | null)[] {
    return this.index.patterns.map((_, type) => {
      const vocabulary = this.#vocabulary(type)
      const selection = vocabulary && selectLocals(vocabulary[sort], local)
      return selection && selection.locals.length > 0 ? selection : null
    })
  }

  #combine(
    { tables, fit }: TableSelection,
    ofType: readonly (LocalSelection | null)[],
    sort: keyof TypeVocabulary,
    isAnywhere: boolean,
    most: number,
  ): Catch {
    const book = this.#tableBook()
    const { tableType } = book
    const perType = ofType.map((selection) => selection?.locals.length ?? 0)
    const best: { fit: Fit; place: FoundPlace }[] = []
    let count = 0
    for (const table of tables) count += perType[tableType[table]]
    for (const each of [fits.same, fits.begins, fits.holds]) {
      for (let k = 0; k < tables.length && fit[k] <= each && best.length < most; k++) {
        const number = tableType[tables[k]]
        const selection = ofType[number]
        if (!selection) continue
        for (let j = 0; j < selection.locals.length && selection.fit[j] <= each && best.length < most; j++) {
          if (Math.max(fit[k], selection.fit[j]) !== each) continue
          const ids = tableIds(book, tables[k])
          const local = this.#vocabulary(number)![sort].addresses[selection.locals[j]]
          const address = `R${ids.row}/T${ids.table}/${local}`
          const kind = sort === 'parts' ? 'part' : 'joint'
          best.push({ fit: isAnywhere ? weakerAnywhere(each) : each, place: { kind, address } })
        }
      }
    }
    return { count, best }
  }

  #readingsMeant(wanted: Wanted, most: number): Catch {
    const number = readingMeant(wanted)
    if (number === undefined) return nothing
    const isBare = number !== null && wanted.tokens.length === 1
    const found = this.#readings().flatMap((reading) => {
      const fit = number === null ? fits.begins : fitOfId(reading.number, number)
      if (fit === fits.none) return []
      const place = { kind: 'reading', entry: reading.entry, number: reading.number } as const
      return [{ fit: isBare && fit !== fits.same ? weaker(fit) : fit, place }]
    })
    return { count: found.length, best: byFit(found).slice(0, most) }
  }
}

/** The pauses of a job, without what it tells at them. */
function* paused<T>(job: Generator<unknown, T>): Generator<void, T> {
  let step = job.next()
  for (; !step.done; step = job.next()) yield
  return step.value
}

/** A part that was named without its table is one of many, however well its name fits. */
function weakerAnywhere(fit: Fit): Fit {
  return fit === fits.same ? fits.begins : fit
}

function lineText(line: WantedLine | null): string {
  return line ? `${line.isAddress ? '@' : ''}${line.wanted.key}${line.wanted.isOpen ? '*' : ''}` : ''
}

/** An address as the program writes it: `r04/t6 / f1.02` is `R4/T6/F1.2`. */
function writtenAddress(raw: string): string {
  return raw
    .toLowerCase()
    .replace(/\s+/g, '')
    .replace(/(?<!\d)0+(?=\d)/g, '')
    .replace(/[a-z](?=\d)/g, (letter) => letter.toUpperCase())
}

/** How many of one sort come before another that fits as well has its turn. */
const inTurn = 3

/** The best of all sorts together, each place once; none that fits well is crowded out by many of another sort. */
function gather(sorts: readonly Catch[], most: number): Findings {
  const seen = new Set<string>()
  const all: { fit: Fit; turn: number; at: number; place: FoundPlace }[] = []
  let count = 0
  for (const sort of sorts) {
    count += sort.count
    let turn = 0
    for (const [k, { fit, place }] of sort.best.entries()) {
      turn = k > 0 && fit === sort.best[k - 1].fit ? turn + 1 : 0
      const key = JSON.stringify(place)
      if (seen.has(key)) count--
      else all.push({ fit, turn: Math.floor(turn / inTurn), at: all.length, place })
      seen.add(key)
    }
  }
  all.sort((a, b) => a.fit - b.fit || a.turn - b.turn || a.at - b.at)
  const places = all.slice(0, most).sort((a, b) => a.fit - b.fit || a.at - b.at)
  return {
    places: places.map(({ place }) => place),
    further: Math.max(0, count - places.length),
    isSure: places.length > 0 && places[0].fit <= fits.same,
  }
}
