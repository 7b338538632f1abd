import { formatCount, formatCounted, inWords, type Units } from './units.ts'
import { printable, quoted } from './where.ts'
import { wordsFor } from './words.ts'

/** What a column may say, as the label of a field. */
export const columnWords = {
  row: 'Row that the table belongs to',
  label: 'Label',
  x: 'x, to the east',
  y: 'y, to the north',
  bearing: 'Bearing, clockwise from north',
  tables: 'Number of tables',
  gap: 'Clear gap between tables',
  pitch: 'Pitch, from table to table',
  type: 'Table type',
} as const

export const importTexts = {
  title: 'Import a layout',
  begin:
    'A list of rows or of tables as CSV, from a spreadsheet or a survey, or a drawing as GeoJSON. ' +
    'What is imported is added to what is drawn, as one step that can be taken back.',
  choose: 'Choose a file',
  chooseOther: 'Choose another file',
  file: 'File to import',
  drop: 'Or drop the file here.',
  noSite: 'no site is open; open or begin one under Sites',
  readOnly: 'another tab holds this site',
  reading: 'Reading the file',
  nothing: 'nothing of the file can be added',
  noFile: 'no file is chosen yet',
  busy: 'the file is still being read',
  wrongFirst: 'say first what becomes of what is wrong',
  noType:
    'The site has no table type yet, and tables need one: how many modules, how large, how they are bonded. ' +
    'Take one to start from, and make it yours under Draw.',
  oldLetters:
    'The file is not in UTF-8; its letters were read as those of the old western code page. Look at labels with accents.',
  otherSystem:
    'The file names a reference system of its own. GeoJSON is longitude and latitude of WGS 84 and is read so; ' +
    'if it holds anything else, export it again.',
  preview: 'How it is understood',
  columns: 'Which column says what',
  reads: 'How the file is read',
  none: 'not in the file',
  unknownType: 'none: these lines are wrong',
  anchorNeeded:
    'The drawing has no place on earth yet. It gets this one: the latitude and longitude of its origin, x 0 and y 0. ' +
    'Rows that are drawn already stand around that origin, so look twice.',
  anchorGuessed:
    'The drawing has no place on earth yet. It gets the middle of the file, or what you put here: the latitude and ' +
    'longitude of its origin.',
} as const

export const listOptions = [
  { id: 'rows', label: 'one row' },
  { id: 'tables', label: 'one table' },
] as const

export const delimiterOptions = [
  { id: ',', label: 'comma' },
  { id: ';', label: 'semicolon' },
  { id: '\t', label: 'tab' },
  { id: '|', label: 'bar' },
] as const

export const markOptions = [
  { id: 'point', label: 'point, 12.5' },
  { id: 'comma', label: 'comma, 12,5' },
] as const

export const lengthUnitOptions = [
  { id: 'm', label: 'metres' },
  { id: 'ft', label: 'feet (0.3048 m)' },
  { id: 'usFt', label: 'US survey feet' },
] as const

export const spotOptions = [
  { id: 'corner', label: 'its lower corner at the row’s start' },
  { id: 'middle', label: 'its middle' },
] as const

export const bearingOptions = [
  { id: 'along', label: 'along the row, tables to its left' },
  { id: 'facing', label: 'the way that tables face' },
] as const

export const rowLineOptions = [
  { id: 'lowerEdge', label: 'along the lower edge of its tables' },
  { id: 'middle', label: 'through the middle of its tables' },
] as const

export const linkOptions = [
  { id: '0', label: 'none' },
  { id: '1', label: 'one' },
  { id: '2', label: 'two, at both sides' },
] as const

/** What a shape of a drawing becomes, in the site's words. */
export function kindLabel(kind: string, units: Units): string {
  const { earthBar, electrode } = wordsFor(units)
  const labels: Readonly<Record<string, string>> = {
    table: 'table',
    row: 'row of tables',
    conductor: 'conductor',
    electrode,
    enclosure: 'enclosure',
    earthBar,
    aisle: 'aisle',
    obstacle: 'obstacle',
    leave: 'leave out',
  }
  return Object.hasOwn(labels, kind) ? labels[kind] : printable(kind)
}

export function typeQuestion(name: string): string {
  return `${quoted(name, 40)} in the file is`
}

/** A number of a place: three decimals, so that millimetres show. */
export function placeNumber(lengthM: number, units: Units): string {
  return (units === 'us' ? lengthM / 0.3048 : lengthM).toFixed(3)
}

export function placeUnit(units: Units): string {
  return units === 'us' ? 'ft' : 'm'
}

interface Counts {
  readonly rows: number
  readonly tables: number
  readonly joints: number
  readonly equipment: number
}

function countWords({ rows, tables, equipment }: Counts): string {
  const pieces = [
    ...(rows > 0 ? [`${formatCounted(rows, 'row')} with ${formatCounted(tables, 'table')} in all`] : []),
    ...(equipment > 0 ? [formatCounted(equipment, 'other thing')] : []),
  ]
  return pieces.length === 0 ? 'nothing' : inWords(pieces)
}

/** What would be added. */
export function describePlan(counts: Counts): string {
  const joints = counts.joints > 0 ? ` Tables and rows bring ${formatCounted(counts.joints, 'joint')}.` : ''
  return `Adds ${countWords(counts)}.${joints}`
}

export function describeMove(largestMoveM: number, units: Units): string {
  const text =
    units === 'us' ? `${(largestMoveM / 0.0254).toFixed(2)} in` : `${(largestMoveM * 1000).toFixed(1)} mm`
  return `To stand in even rows, the table that moves furthest moves by ${text}.`
}

/** Where lines are wrong; `what` is a line of a list or a feature of a drawing. */
export function describeWrong(wrong: number, total: number, what: 'line' | 'feature'): string {
  const rest = total - wrong
  return (
    `${formatCounted(wrong, what)} of ${formatCount(total)} ${wrong === 1 ? 'is' : 'are'} wrong. ` +
    (rest === 0 ? 'Nothing can be added.' : 'Nothing is added until you mend the file or leave them out.')
  )
}

export function leaveOutLabel(wrong: number, what: 'line' | 'feature'): string {
  return wrong === 1
    ? `Leave out the ${what} that is wrong`
    : `Leave out the ${formatCount(wrong)} ${what}s that are wrong`
}

export function moreTroubles(count: number): string {
  return `and ${formatCount(count)} more`
}

export function describePassedOver(count: number): string {
  return `${formatCounted(count, 'thing')} ${count === 1 ? 'is' : 'are'} left out, as chosen or for want of a place.`
}

export function describeHoles(count: number): string {
  return `${formatCounted(count, 'hole')} in outlines ${count === 1 ? 'is' : 'are'} left out: only outer outlines are drawn.`
}

/** Label of the step in the history, and of what is said when it is done. */
export function importLabel(counts: Counts): string {
  return `Import of ${countWords(counts)}`
}

export function describeImported(counts: Counts): string {
  return `Added ${countWords(counts)}. One step takes all of it back.`
}

export function describeSource(delimiterId: string, lines: number): string {
  const delimiter = delimiterOptions.find(({ id }) => id === delimiterId)?.label ?? ''
  return `${formatCounted(lines, 'line')} below the headings, cells parted by a ${delimiter}.`
}

export function describeShapes(points: number, lines: number, polygons: number): string {
  const pieces = [
    ...(points > 0 ? [formatCounted(points, 'point')] : []),
    ...(lines > 0 ? [formatCounted(lines, 'line')] : []),
    ...(polygons > 0 ? [formatCounted(polygons, 'outline')] : []),
  ]
  return pieces.length === 0 ? 'Nothing with a place is in the file.' : `${inWords(pieces)} are in the file.`
}
