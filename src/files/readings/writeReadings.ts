import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, OhmOrOver } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import { spotNames, surfaceNames } from '../../text/entryText.ts'
import { nameJoint } from '../../text/jointNames.ts'
import { namePart } from '../../text/partNames.ts'
import { openNameBook } from '../../text/places.ts'
import { methodNames } from '../../text/readingListText.ts'
import type { Cell } from '../csvLine.ts'
import { csvLine } from '../csvLine.ts'
import type { ExportPiece } from '../exportPiece.ts'

/** What the program says of a reading, for the last columns. */
export interface SaidOfReading {
  readonly look: string
  readonly expectedOhm: number | null
  readonly criterion: string
}

export interface ReadingsToWrite {
  /** Which readings, by entry id; null for all. */
  readonly only: ReadonlySet<string> | null
  readonly said: ReadonlyMap<string, SaidOfReading>
  /** A byte order mark first: some spreadsheets take a file without one for the old western code page. */
  readonly hasMark: boolean
}

/** What stands over the columns of a list of readings. */
export const readingHeads = [
  'number',
  'time',
  'from address',
  'to address',
  'from',
  'to',
  'read (ohm)',
  'reverse (ohm)',
  'least (ohm)',
  'most (ohm)',
  'method',
  'instrument',
  'serial',
  'lead',
  'nulled',
  'test current (A)',
  'from spot',
  'from surface',
  'to spot',
  'to surface',
  'around',
  'joint in words',
  'metal (C)',
  'tracker (deg)',
  'current spike (m)',
  'potential spike (m)',
  'repeats',
  'withdrawn',
  'why withdrawn',
  'corrected from (ohm)',
  'why corrected',
  'look',
  'expected (ohm)',
  'against its criterion',
  'visit',
  'visit purpose',
  'note',
]

/** Lines in one piece: each names both its ends. */
const linesAtOnce = 500

/**
 * Readings as CSV in canonical order, as corrected, with the numbers that all sentences use; withdrawn ones are marked. It can be
 * imported again. Ohms have all their digits, over range is `>` with the ohms that it is at least. Yields stretches
 * of it. O(record).
 */
export function* writeReadings(
  site: Site,
  { hasMark, ...which }: ReadingsToWrite,
): Generator<ExportPiece, void> {
  let text = (hasMark ? '\ufeff' : '') + csvLine(readingHeads)
  let done = 0
  for (const { cells, fraction } of readingLines(site, which)) {
    text += csvLine(cells)
    done++
    if (done % linesAtOnce !== 0) continue
    yield { text, fraction }
    text = ''
  }
  yield { text, fraction: 1 }
}

/** The same readings as cells, one for each of `readingHeads`. */
export function* readingLines(
  site: Site,
  { only, said }: Pick<ReadingsToWrite, 'only' | 'said'>,
): Generator<{ readonly cells: readonly Cell[]; readonly fraction: number }, void> {
  const book = openNameBook(site.drawing)
  const all = effectiveRecord(site.record)
  const visits = new Map(
    all.flatMap(({ entry }) => (entry.entry === 'visit' ? [[entry.id, entry] as const] : [])),
  )
  const numbers = new Map<string, number>()
  const nulled = new Set<string>()
  for (const [k, { entry, original, corrections, withdrawnBy }] of all.entries()) {
    if (entry.entry === 'nulling' && !withdrawnBy) nulled.add(leadKey(entry))
    if (entry.entry !== 'reading') continue
    numbers.set(entry.id, numbers.size + 1)
    if (only !== null && !only.has(entry.id)) continue
    const visit = visits.get(entry.visit)
    const kit = visit?.kits.find(({ id }) => id === entry.kit)
    const lead = visit?.leads.find(({ id }) => id === entry.lead)
    const first = corrections.length > 0 && original.entry === 'reading' ? original.result : null
    const told = said.get(entry.id)
    const cells: readonly Cell[] = [
      numbers.get(entry.id)!,
      entry.at,
      entry.from.part,
      entry.to.part,
      namePart(book, entry.from.part),
      namePart(book, entry.to.part),
      ohmCell(entry.result),
      entry.reverseOhm,
      entry.unsteady?.leastOhm ?? null,
      entry.unsteady?.mostOhm ?? null,
      methodNames[entry.method],
      nameOr(visit?.kits ?? [], kit, entry.kit),
      kit?.serial ?? '',
      entry.lead === null ? 'none' : nameOr(visit?.leads ?? [], lead, entry.lead),
      entry.method === 'twoWire' && entry.lead !== null ? (nulled.has(leadKey(entry)) ? 'yes' : 'no') : '',
      entry.testCurrentA,
      spotNames[entry.from.spot],
      surfaceNames[entry.from.surface],
      spotNames[entry.to.spot],
      surfaceNames[entry.to.surface],
      entry.around,
      entry.around === null ? null : nameJoint(book, entry.around),
      entry.metalC,
      entry.trackerDeg,
      entry.spikesM?.current ?? null,
      entry.spikesM?.potential ?? null,
      entry.repeats === null ? null : (numbers.get(entry.repeats) ?? null),
      withdrawnBy ? 'yes' : '',
      withdrawnBy?.reason ?? '',
      first === null ? null : ohmCell(first),
      corrections.at(-1)?.reason ?? '',
      told?.look ?? '',
      told?.expectedOhm ?? null,
      told?.criterion ?? '',
      visit?.at ?? '',
      visit?.purpose ?? '',
      entry.note,
    ]
    yield { cells, fraction: k / all.length }
  }
}

const leadKey = ({ visit, kit, lead }: EntryOf<'reading' | 'nulling'>) => `${visit} ${kit} ${lead}`

function ohmCell(result: OhmOrOver): Cell {
  return result.form === 'ohm' ? result.ohm : `>${result.atLeastOhm}`
}

/** The name, or the id where the name does not tell which one it is. */
function nameOr<T extends { readonly id: string; readonly name: string }>(
  all: readonly T[],
  one: T | undefined,
  id: string,
): string {
  if (one === undefined || one.name.trim() === '') return id
  return all.filter(({ name }) => name.trim() === one.name.trim()).length > 1 ? id : one.name
}

/** The readings of one visit, for `only`. */
export function readingsOfVisit(record: readonly Entry[], visit: string): ReadonlySet<string> {
  return new Set(record.flatMap((e) => (e.entry === 'reading' && e.visit === visit ? [e.id] : [])))
}

/** How many readings a record has, withdrawn ones too. */
export function countReadings(record: readonly Entry[]): number {
  return record.reduce((count, { entry }) => count + (entry === 'reading' ? 1 : 0), 0)
}
