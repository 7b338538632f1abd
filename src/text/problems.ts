import type { Problem, ProblemCode, ProblemFacts, Where } from '../model/problem.ts'
import { formatInstant } from './instants.ts'
import { formatCount, formatCounted, inWords } from './units.ts'
import { describeWhere, printable, quoted } from './where.ts'

type Sentence<C extends ProblemCode> = (facts: ProblemFacts[C], where: Where) => string

const saveAsFile = 'Save the site as a file now.'

/** What happened and what to do, for every code: one that is missing does not compile. */
const sentences: { readonly [C in ProblemCode]: Sentence<C> } = {
  'file.missing': ({ reason }) =>
    `The file could not be read: ${printable(reason)}. Check its name and that you may read it.`,
  'file.tooLarge': ({ bytes, mostBytes }) =>
    `The file is longer than the ${formatMegabytes(mostBytes)} that are read at most${ownLength(bytes, mostBytes)}. ` +
    'Check that this is the right file; a larger site has to be kept as several.',
  'file.tooLongToSave': ({ bytes, mostBytes }) =>
    `The site has grown longer than the ${formatMegabytes(mostBytes)} that could be opened again` +
    `${ownLength(bytes, mostBytes)}. It was not saved; what was saved before is as it was, and the page keeps the site ` +
    'as long as it stays open. Undo the last change, or take out what is not needed, and save again; ' +
    'a larger site has to be kept as several.',
  'file.empty': () => 'The file is empty. Open an earlier copy of it.',
  'file.notText': () =>
    'The file is not text in UTF-8, so it is no site file, or it was damaged on its way. Open another copy.',
  'file.notJson': ({ reason, truncated }) =>
    truncated
      ? 'The file ends before its content does: it was cut off while being written or copied. Open another copy.'
      : `The file is not valid JSON: ${endless(reason)}. Open another copy, or mend this place in a text editor.`,
  'file.notASite': ({ found }) =>
    `This is no site file: its “format” should be “groundweave-site”, and it is ${printable(found)}. Open another file.`,
  'file.newerVersion': ({ version, known }) =>
    `The file was written in version ${version} of the format; this program knows versions up to ${known}. ` +
    'Open it with a newer program; nothing of it was opened here, so that nothing is lost.',
  'file.badVersion': ({ found }) =>
    `The file's “version” should be a whole number from 1 on, and it is ${printable(found)}. Open another copy.`,
  'file.notWritten': ({ reason }) =>
    `The file could not be written: ${endless(reason)}. What stood there before is as it was. ` +
    'Name another place, or make room, and save again.',
  'file.several': ({ count }) =>
    `${formatCounted(count, 'file')} came at once and none was opened. Bring one site file at a time.`,
  'file.notTable': () =>
    'The file holds bytes that no text has, so it is no list of rows or tables. Save the sheet as CSV, and open that file.',
  'file.notGeoJson': ({ found }) =>
    `This is no GeoJSON: its “type” should be FeatureCollection, Feature or a geometry, and it is ${printable(found)}. ` +
    'Export the drawing as GeoJSON, and open that file.',

  'value.unknownKey': ({ keys }) =>
    keys.length === 1
      ? `There is no such field as ${quoted(keys[0])} here. Remove it, or check its spelling.`
      : `There are no such fields as ${inWords(keys.map((key) => quoted(key)))} here. Remove them, or check their spelling.`,
  'value.missing': ({ expected }) => `A value is missing; expected ${endless(expected)}. Add it.`,
  'value.wrong': ({ expected, found }) =>
    `Expected ${endless(expected)}; found ${endless(found)}. Put in a value of that sort.`,
  'value.outOfRange': ({ expected, found }) =>
    `Expected ${endless(expected)}; found ${endless(found)}. Check the value and its unit.`,
  'value.inconsistent': ({ reason }) =>
    `What stands here does not fit together: ${endless(reason)}. Change one or the other.`,

  'reference.badAddress': ({ text, expected }) =>
    expected === 'part'
      ? `${quoted(text)} is not the address of a part. Write it like R3/T7/F2.14 (row 3, table 7, frame 2.14), ` +
        'R3/T7/L1.4, R3/T7/X2, R3/T7/P1.2, E1, B1, G1, C5.2 or earth.'
      : `${quoted(text)} is not the address of a joint. Write it like R3/T7/F2.14~L3.15, R3/T7+T8~1, C5.2~lug, J4 or A2.`,
  'reference.noSuchPart': ({ text, nearest }) =>
    `There is no part ${quoted(text)} in the drawing. ${nearestHint(nearest)}`,
  'reference.noSuchJoint': ({ text, nearest }) =>
    `There is no joint ${quoted(text)} in the drawing. ${nearestHint(nearest)}`,
  'reference.duplicateId': ({ what, id }) =>
    `The ${printable(what)} ${quoted(id)} is given more than once. Keep one of them, or give the other an id of its own.`,
  'reference.unknownName': ({ what, name }) =>
    `There is no ${printable(what)} called ${quoted(name)} in this file. Add it, or name one that is there.`,
  'reference.idNotCounted': ({ what, id, next }) =>
    `The ${printable(what)} ${id} was given although the file's count says that ${next} comes next. ` +
    `Raise the count to ${id + 1} or more, so that no id is ever given twice.`,
  'reference.samePart': ({ text }) =>
    `Both ends are the same part, ${quoted(text)}. Give two different parts.`,
  'reference.conflict': ({ id }) =>
    `Two entries share the id ${quoted(id)} and differ in content. Both are kept; say which one holds.`,
  'reference.otherSite': ({ found, expected }) =>
    `The file belongs to another site (${quoted(found)}, not ${quoted(expected)}). Open it by itself instead.`,

  'edit.notThere': ({ what, id }) =>
    `The ${printable(what)} ${quoted(id)} is no longer in the drawing. Choose one that is.`,
  'edit.inUse': ({ what, id, users }) =>
    `The ${printable(what)} ${quoted(id)} is still used in ${formatCounted(users, 'place')}. Change those first.`,
  'edit.orphans': ({ addresses, total }) =>
    `This change would leave ${formatCounted(total, 'address', 'addresses')} without a part or joint: ` +
    `${inWords(shortList(addresses, total))}. Move or withdraw what refers to ${total === 1 ? 'it' : 'them'} first.`,

  'label.placeholder': ({ found, counted }) =>
    `${quoted(found)} stands for nothing in a label. Write ${inWords([...counted.map((name) => `{${name}}`), '{name}'])}; ` +
    `{${counted[0]}:02} writes two digits, {${counted[0]}:A} letters.`,
  'label.noLetter': ({ counted }) =>
    `There is no letter for 0. Let the ${counted === 'row' ? 'rows' : 'tables'} count from 1, or write them in digits.`,

  'size.tooManyJoints': ({ joints, most }) =>
    `The drawing has ${formatCounted(joints, 'joint')}; ${formatCount(most)} is the most that is computed. ` +
    'Split the site into several files, for example by inverter.',
  'size.tooMany': ({ what, found, most }) =>
    `There are ${formatCount(found)} ${printable(what)}; ${formatCount(most)} is the most that is taken. ` +
    'Split the site into several files.',

  'storage.blocked': ({ reason }) =>
    `The browser keeps nothing on this device for this page: ${endless(reason)}. ${saveAsFile} ` +
    'Then allow the page to keep data, or use a window that is not private.',
  'storage.newer': () =>
    'The sites on this device were last kept by a newer version of this program; nothing was changed. ' +
    'Close all its tabs, open it again, and let it update.',
  'storage.closed': () =>
    `The store on this device was closed, by an update in another tab or by clearing the browser's data. ` +
    `${saveAsFile} Then load the page again.`,
  'storage.full': ({ name, bytes, freeBytes }) =>
    `There is no room on this device for ${name === null ? 'this' : quoted(name)}: ` +
    `it takes ${formatMegabytes(bytes)}${freeBytes === null ? '' : `, and ${formatMegabytes(freeBytes)} are free`}. ` +
    `What was kept before is as it was. ${saveAsFile} Then empty the bin or make room on the device.`,
  'storage.failed': ({ doing, reason }) =>
    doing === 'read'
      ? `What is kept on this device could not be read: ${endless(reason)}. Load the page again; if that does not help, ` +
        'open the site from a file.'
      : `The change could not be kept on this device: ${endless(reason)}. What was kept before is as it was. ${saveAsFile}`,
  'storage.notThere': () =>
    'This site is not kept on this device any more. Look in the bin, or open it from a file.',
  'storage.conflict': ({ name, savedAt, keptAs }) =>
    `${quoted(name)} was saved elsewhere meanwhile (${formatInstant(savedAt)}), so nothing was written over it. ` +
    `What you have here is kept beside it as ${quoted(keptAs)}. Open both, and carry over what is missing.`,
  'storage.damaged': ({ name, savedAt, olderSavedAt }) =>
    olderSavedAt === null
      ? `What is kept of ${quoted(name)} on this device is damaged and cannot be opened. ` +
        'Open the site from a file; the damaged copy can be saved as a file too.'
      : `The newest copy of ${quoted(name)} (${formatInstant(savedAt)}) is damaged; the one before it is shown ` +
        `(${formatInstant(olderSavedAt)}). Look for what is missing at the end of the record; the damaged copy is set aside.`,
  'storage.recovered': ({ names }) =>
    `The browser had lost what it kept on this device, and ${inWords(names.slice(0, 5).map((name) => quoted(name)))} ` +
    `${names.length === 1 ? 'was' : 'were'} brought back from the second copy. Compare the number of readings, and save ` +
    'the site as a file now.',
  'storage.heldElsewhere': () =>
    'This site is open in another tab or window, so it can only be looked at here. ' +
    'Go on there, or close it there to change it here.',

  'photo.tooLarge': ({ bytes, mostBytes }) =>
    `The photo has ${formatMegabytes(bytes)}; ${formatMegabytes(mostBytes)} is the most that is kept of one. ` +
    'Take it smaller.',
  'photo.notThere': ({ sha256 }) =>
    `The photo ${shortHash(sha256)} is not kept on this device. Open the site from a file with its photos.`,
  'photo.damaged': ({ sha256 }) =>
    `The photo ${shortHash(sha256)} is damaged and is not shown. Open the site from a file with its photos.`,
  'photo.inUse': ({ sha256 }) =>
    `The photo ${shortHash(sha256)} belongs to a site that is kept on this device, so it stays.`,
  'zip.refused': ({ reason, name }) =>
    `The file was not opened: ${zipReasons[reason]}${name === '' ? '' : ` (${quoted(name)})`}. ` +
    'Save it again where it came from, and open that file.',
  'photo.notAPhoto': ({ found }) =>
    `Expected a photo as JPEG, PNG or WebP; found ${endless(found)}. Choose another file.`,

  'numeric.residual': ({ residual, most }) =>
    `The computed currents do not balance well enough to be shown: the largest imbalance is ` +
    `${residual.toExponential(1)} of the current at its part, and ${most.toExponential(0)} is the most allowed. ` +
    'Look for joints whose ohms differ from the rest by many powers of ten.',

  'command.unknown': ({ given, known }) =>
    `There is no command ${quoted(given)}. The commands are ${inWords(known)}; --help says what each does.`,
  'command.usage': ({ usage, reason }) => `${ended(reason)} Usage: ${usage}`,
  'command.noReadings': () =>
    'There is no reading in this file that can be counted, so nothing can be located. ' +
    'Take readings first, or look at what was withdrawn.',
  'drill.none': () =>
    'No drill is going on. It stops when the array is drawn otherwise or the program starts anew. Go on with the one that was kept, or hide a joint to begin one.',
  'drill.over': () => 'This drill is over. Begin another one.',
  'drill.nothingToHide': () =>
    'There is no joint here whose loss this instrument would show beyond doubt: every one has others beside it. ' +
    'Take a finer instrument, or another site.',
  'drill.unseen': () =>
    'This joint would hardly change a reading of this instrument: others beside it carry its current. ' +
    'Choose another joint, more ohms, or a finer instrument.',
  'drill.nothingRead': () =>
    'Nothing has been read yet, so there is nothing to read again. Read a pair first.',
  'drill.noSuchReading': ({ reading, readings }) =>
    `There is no reading ${reading}: ${readings} were taken. Give the number of one of them.`,
  'drill.changed': () =>
    'This drill cannot go on: gone through again it reads otherwise, so the array was drawn otherwise since, or the program is ' +
    'another version. Undo the change, or put the drill away and begin another one.',
  'drill.mayNotAsk': () =>
    'The trainer switched this help off for the drill. Go by the readings; it can be allowed in the next drill.',
  'drill.nothingToGoOn': () => 'Nothing has been read yet, so there is nothing to go by. Read a pair first.',
  'drill.calledBefore': ({ what }) => `${ended(what)} That was called before. Call something else.`,
  cancelled: () => 'The computation was stopped before it was done. Ask again to have it made.',
}

/** A file that could not be written; the file that stood there before is as it was. */
export function describeNotWritten(file: string, reason: string): string {
  return `${printable(file)}: The file could not be written: ${endless(reason)}. Name another place, or make room.`
}

/** What happened and what to do, without the place. */
export function describeProblem(problem: Problem): string {
  const sentence = sentences[problem.code] as Sentence<ProblemCode>
  return sentence(problem.facts, problem.where)
}

/** Place and sentence in one line: `roof.json, drawing › rows › 4th: …`. */
export function problemLine(problem: Problem): string {
  const where = describeWhere(problem.where)
  return where === '' ? describeProblem(problem) : `${where}: ${describeProblem(problem)}`
}

function nearestHint(nearest: string | null): string {
  return nearest === null ? 'Check the address against the drawing.' : `The nearest is ${printable(nearest)}.`
}

function shortList(addresses: readonly string[], total: number): string[] {
  const shown = addresses.slice(0, 5).map((address) => printable(address))
  const left = total - shown.length
  return left > 0 ? [...shown, `${formatCount(left)} more`] : shown
}

/** Of a pipe that was cut off only the limit is known: then its length is not said. */
function ownLength(bytes: number, mostBytes: number): string {
  const length = formatMegabytes(bytes)
  return length === formatMegabytes(mostBytes) ? '' : ` (${length})`
}

const zipReasons: Readonly<Record<ProblemFacts['zip.refused']['reason'], string>> = {
  broken: 'it is damaged, or was cut off while being copied',
  tooMany: 'it holds more files than a site with its photos has',
  encrypted: 'it is locked with a password',
  twice: 'it holds a file twice',
  name: 'it holds a file that no site with its photos has',
  noSite: 'there is no site in it',
  tooLarge: 'it holds a file that is too long',
}

/** Enough of a hash to tell photos apart. */
function shortHash(sha256: string): string {
  return sha256.slice(0, 8)
}

function formatMegabytes(bytes: number): string {
  const megabytes = bytes / (1024 * 1024)
  if (bytes < 1024) return formatCounted(bytes, 'byte')
  return megabytes < 1 ? `${Math.round(bytes / 1024)} KB` : `${Number(megabytes.toFixed(1))} MB`
}

/** A reason from elsewhere without its last full stop, for the middle of a sentence. */
function endless(text: string): string {
  return printable(text, 300).replace(/[.\s]+$/, '')
}

function ended(text: string): string {
  const sentence = endless(text)
  return sentence.endsWith('?') ? sentence : `${sentence}.`
}
