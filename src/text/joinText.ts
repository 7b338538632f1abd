import type { AddedPart } from '../model/record/joinParts.ts'
import type { Entry } from '../model/schema/record.ts'
import type { WhyKeptName } from './savingText.ts'
import { formatInstant } from './instants.ts'
import { formatReadOhm } from './ohms.ts'
import { formatCounted, inWords } from './units.ts'
import { printable, quoted } from './where.ts'

/** Sentences of the dialog in which the record of a file joins that of the same site on this device. */
export const joinTexts = {
  title: 'Join two records of one site',
  intro: 'The file is of a site that is on this device already. Nothing of either record is dropped.',
  nothing: 'The file adds no entry.',
  join: 'Join',
  leave: 'Leave it',
  conflicts: 'Entries that differ',
  conflictHow: 'One entry, two contents. Choose which one counts; the other is kept in a note.',
  here: 'On this device',
  inFile: 'In the file',
  drawing: 'The drawing',
  drawingDiffers:
    'The two drawings differ, and drawings are never mixed. Choose one; the other is kept among the earlier versions, ' +
    'where you can go back to it.',
  drawingNewer: 'The file has a newer drawing, made from the one on this device.',
  readOnly: 'This site is open in another tab or window. Take it over first, then open the file again.',
  nothingNew: 'The file holds nothing that is not on this device already.',
  step: 'drawing of the file taken',
} as const

export function describeAdded({ device, party, readings, others, firstAt, lastAt }: AddedPart): string {
  const who = party.length > 0 ? inWords(party.map((name) => printable(name))) : 'A device without names'
  const what = [
    ...(readings > 0 ? [formatCounted(readings, 'reading')] : []),
    ...(others > 0 ? [formatCounted(others, 'other entry', 'other entries')] : []),
  ]
  const [first, last] = [formatInstant(firstAt), formatInstant(lastAt)]
  const when = first === last ? first : `${first} to ${last}`
  return `${who} (device ${device.slice(0, 8)}): ${inWords(what)}, ${when}.`
}

export function describeSame(same: number): string {
  return `${formatCounted(same, 'entry', 'entries')} of the file ${same === 1 ? 'is' : 'are'} on this device already.`
}

export function describeDrawing(site: {
  readonly name: string
  readonly drawing: { readonly rows: readonly unknown[]; readonly conductors: readonly unknown[] }
}): string {
  const { rows, conductors } = site.drawing
  return `${printable(site.name)}: ${formatCounted(rows.length, 'row')}, ${formatCounted(conductors.length, 'conductor')}`
}

/** One content of an entry in a few words, enough to tell it from another. */
export function describeContent(entry: Entry): string {
  const at = formatInstant(entry.at)
  switch (entry.entry) {
    case 'reading': {
      const { result, from, to, note } = entry
      const value = result.form === 'ohm' ? formatReadOhm(result.ohm) : 'over range'
      const said = note === '' ? '' : `, note ${quoted(note)}`
      return `Reading ${value} from ${printable(from.part)} to ${printable(to.part)}, ${at}${said}`
    }
    case 'note':
      return `Note ${quoted(entry.text.slice(0, 120))}, ${at}`
    case 'look':
      return `Look at ${printable(entry.joint)}: ${entry.findings.join(', ')}, ${at}`
    default:
      return `${entry.entry}, ${at}`
  }
}

export function describeJoined(added: number): string {
  return added === 0
    ? 'The two are one now.'
    : `${formatCounted(added, 'entry', 'entries')} joined the record.`
}

/** Sentences about earlier versions. */
export const versionTexts = {
  title: 'Earlier versions',
  none: 'There is no earlier version of this site yet.',
  how:
    'One for each hour of the last day and each day of the last month, and one before each import, join and step back, as ' +
    'far as there is room. Going back changes the drawing only: every reading stays.',
  back: 'Go back to it',
  copy: 'Open as a copy',
} as const

const reasons: Readonly<Record<WhyKeptName, string | null>> = {
  time: null,
  import: 'before an import',
  merge: 'before records were joined',
  back: 'before going back',
  otherDrawing: 'the other drawing of a join',
}

export function describeVersion(version: {
  readonly savedAt: string
  readonly bytes: number
  readonly why: WhyKeptName
  readonly counts?: { readonly readings: number; readonly rows: number }
}): string {
  const { savedAt, bytes, why, counts } = version
  const reason = reasons[why]
  const size =
    bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`
  return [
    `${formatInstant(savedAt)}${reason === null ? '' : `, ${reason}`}`,
    ...(counts ? [formatCounted(counts.rows, 'row'), formatCounted(counts.readings, 'reading')] : []),
    size,
  ].join(', ')
}

export function copyName(name: string, savedAt: string): string {
  return `${name.slice(0, 170)}, as of ${formatInstant(savedAt)}`
}

export function backLabel(savedAt: string): string {
  return `drawing of ${formatInstant(savedAt)}`
}

export function describeWentBack(savedAt: string): string {
  return `The drawing is that of ${formatInstant(savedAt)}. Every entry of the record stays. Undo takes it back.`
}
