import type {
  DrillAnswer,
  DrillCalled,
  DrillReading,
  DrillScore,
  DrillSheet,
  DrillStood,
} from '../model/drill.ts'
import type { Kit } from '../model/schema/record.ts'
import { nameJoint, nameJointAt } from './jointNames.ts'
import { formatGiveOrTake, formatOhm, formatReadOhm } from './ohms.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { capital, formatCounted, inWords } from './units.ts'
import { printable } from './where.ts'

/** Labels and sentences of the practice drill. */
export const drillTexts = {
  title: 'Drill',
  about:
    'One joint of this site is made bad where nobody sees it. Take readings, find it, name it. Every reading is simulated: ' +
    'nothing is entered into the record.',
  trainee: 'Trainee',
  trainer: 'Trainer',
  kept: 'Names and results stay on this device.',
  how: 'How it is hidden',
  byLot: 'Hide one for me',
  bySeed: 'By a number',
  byTrainer: 'The trainer picks the joint',
  seed: 'Number of the drill',
  seedHint: 'The same number on the same site is the same drill.',
  turnAway: 'Turn the screen away, tap the joint on the map, then hide it. Nothing of it is shown after.',
  picked: 'Picked',
  nonePicked: 'No joint is picked on the map.',
  pickFirst: 'a joint has to be picked on the map',
  state: 'The joint is',
  states: { open: 'open', raised: 'raised' },
  added: 'Ohms that it gains',
  instrument: 'Instrument',
  hide: 'Begin: hide the joint',
  hidden: 'The joint is hidden. The drill begins.',
  working: 'Working',
  stoppedBefore: 'Stopped. No joint was hidden.',
  goesOn: 'The drill goes on where it stood.',
  waits: 'The drill waits in Fault current, on this site; nothing of it is lost.',
  waitsElsewhere: 'The drill of the other site is kept: open that site to go on with it.',
  left: 'one waits',
  goOn: 'Go on with it',
  putAway: 'Put it away',
  stop: { read: 'Stop', spoken: 'what is being worked on' },
  reading: 'Read a pair',
  from: 'First clip',
  to: 'Second clip',
  link: 'Choose both on the map',
  linkEnd: 'Leave off choosing',
  usePicked: (end: string) => `${end}: what is picked`,
  read: 'Read it',
  bothEnds: 'both clips have to be placed',
  samePart: 'both clips are on the same part',
  again: 'Read again',
  reseat: 'Seat the clips afresh and read',
  nothingRead: 'nothing was read yet',
  nullLeads: 'Null the leads',
  nulled: 'Leads are nulled.',
  notNulled: 'Leads are not nulled: all of their ohms are in what is shown.',
  noLeadOffset: 'Four-wire clips: the leads are not in the reading.',
  readings: 'Readings of this drill',
  noReadings: 'Nothing read yet. The first clip usually goes to an earth bar.',
  badTest: 'This test is bad',
  badTestSaid: (number: number) => `reading ${number}`,
  call: 'Name the joint',
  callIt: 'This is the bad joint',
  tapJoint: 'Tap the joint on the map, or find it by name at the top; then name it here.',
  calls: 'Called so far',
  giveUp: 'Give up and show it',
  reveal: 'What it was',
  points: 'Points',
  again2: 'Another drill',
  keepSheet: 'Keep on the result sheet',
  keptSheet: 'Kept on the result sheet.',
  needsTrainee: 'type the trainee’s name first',
  alreadyKept: 'it is kept already',
  sheet: 'Attendance and result sheet',
  noSheet: 'Nothing kept yet.',
  print: 'Print',
  csv: 'As CSV',
  removeLine: 'Remove this line',
  signed: 'Signature',
  trainerSigns: 'Trainer, signature',
  date: 'Date',
  found: 'found',
  notFound: 'not found',
  pickedByTrainer: 'picked by the trainer',
  saved: (fileName: string) => `Saved as ${fileName}.`,
  showPair: 'Show on map',
  lead: 'Lead',
  mayAsk: 'What the trainee may ask the program',
  questions: { suspects: 'What do the readings say?', next: 'What to measure next?' },
  ask: 'Ask the program',
  askHint:
    'It knows the drawing and the readings above, not what is hidden. Each asking is counted and costs points.',
  showsNone: 'These readings would show the loss of no joint: between their ends others lie beside each.',
  askOff: 'The trainer switched this off.',
  answered: 'answered below, for the readings as they are',
  saidSuspects: 'What the readings say',
  saidNext: 'What to measure next',
  placeClips: 'Place the clips so',
  reseatAbove: 'Seat the clips afresh and read, above.',
  nullAbove: 'In the drill: null the leads, above.',
  readElsewhere:
    'Read where no reading has gone yet: from an earth bar or one end of a row to the other end of another row.',
  lookHere: 'Nobody can look in a drill: name the joint where you are sure enough.',
  pickIt: 'Pick it on the map',
  calledWrong: 'called already: wrong',
  moreSuspects: (count: number) => `${formatCounted(count, 'further suspect')}, none more likely.`,
} as const

/** `12.5 min` */
export function formatDrillMinutes(minutes: number): string {
  return `${Number(minutes.toFixed(1))} min`
}

/** What was shown, with where and how: `3. Main earth bar to …: 2.15 Ω`. */
export function describeDrillReading(
  { number, from, to, how, result }: DrillReading,
  kit: Kit,
  book: NameBook,
): string {
  const again = { new: '', again: ', read again', reseat: ', clips seated afresh' }[how]
  return `${number}. ${capital(namePair(book, from, to))}${again}: ${formatDrillResult(result, kit)}`
}

/** What the instrument showed. */
export function formatDrillResult(result: DrillReading['result'], { resolutionOhm }: Kit): string {
  return result.form === 'ohm'
    ? formatReadOhm(result.ohm, null, resolutionOhm)
    : formatReadOhm(null, result.atLeastOhm)
}

/** What a sound array reads there, and the time that it took. */
export function describeDrillExpected({ expectedOhm, spreadOhm, isNulled, minutes }: DrillReading): string {
  const sound =
    expectedOhm === Infinity
      ? 'Nothing joins the two, as drawn.'
      : `A sound array reads ${formatGiveOrTake(expectedOhm, spreadOhm)} here.`
  return `${sound}${isNulled ? '' : ' Leads not nulled.'} ${formatDrillMinutes(minutes)}.`
}

export function describeCalled(called: DrillCalled, book: NameBook): string {
  const verdict = called.isRight ? 'right' : 'wrong'
  if (called.call === 'joint') return `${capital(nameJoint(book, called.joint))}: ${verdict}`
  return `Reading ${called.reading} called a bad test: ${verdict}`
}

/** Where the joint was and what was wrong with it. */
export function describeRevealed(revealed: NonNullable<DrillAnswer['revealed']>, book: NameBook): string {
  const { isFound, joint, addedOhm } = revealed
  const wrong = addedOhm === null ? 'was open' : `had gained ${formatOhm(Number(addedOhm.toPrecision(2)))}`
  return `${isFound ? 'Found' : 'Not found'}: the ${nameJointAt(book, joint)} ${wrong}.`
}

export function describeBadTests(badTests: readonly number[]): string {
  if (badTests.length === 0) return 'No reading went through a poor contact.'
  const one = badTests.length === 1
  return `${one ? 'Reading' : 'Readings'} ${inWords(badTests.map(String))} went through a poor contact.`
}

const scoreWords: readonly (readonly [keyof DrillScore, string])[] = [
  ['found', 'The joint, found'],
  ['readings', 'Readings'],
  ['minutes', 'Minutes'],
  ['wrongCalls', 'Wrong calls'],
  ['badTests', 'Bad tests that were named'],
  ['asked', 'Asked the program'],
  ['total', 'Points, of 100'],
]

/** Each sum of the score with its name; what counted for nothing is left out, but for the joint and the whole. */
export function scoreLines(score: DrillScore): readonly { readonly name: string; readonly value: string }[] {
  return scoreWords
    .filter(([part]) => part === 'found' || part === 'total' || score[part] !== 0)
    .map(([part, name]) => ({ name, value: signed(score[part], part === 'total') }))
}

function signed(points: number, isWhole: boolean): string {
  const size = Number(Math.abs(points).toFixed(1))
  return isWhole || size === 0 ? String(size) : `${points < 0 ? '−' : '+'}${size}`
}

/** `2 askings: 1 what to measure next, …`; null where nothing was asked. */
export function describeAsked(asked: DrillSheet['asked']): string {
  const words = { suspects: 'what the readings say', next: 'what next' }
  const parts = (['suspects', 'next'] as const).flatMap((question) => {
    const times = asked[question]
    return times ? [`${times} × ${words[question]}`] : []
  })
  if (parts.length > 0) return parts.join(', ')
  return asked.suspects === null && asked.next === null ? 'switched off' : 'nothing'
}

/** Drills in which the program was asked beside those in which it was not, a sentence for each that there is. */
export function compareAsked(sheets: readonly DrillSheet[]): readonly string[] {
  const hasAsked = ({ asked }: DrillSheet) => (asked.suspects ?? 0) + (asked.next ?? 0) > 0
  return [
    describeLot(
      'Without asking the program',
      sheets.filter((sheet) => !hasAsked(sheet)),
    ),
    describeLot('Having asked the program', sheets.filter(hasAsked)),
  ].filter((sentence) => sentence !== null)
}

function describeLot(what: string, sheets: readonly DrillSheet[]): string | null {
  if (sheets.length === 0) return null
  const mean = (of: (sheet: DrillSheet) => number) =>
    Number((sheets.reduce((sum, sheet) => sum + of(sheet), 0) / sheets.length).toFixed(1))
  const found = sheets.filter(({ isFound }) => isFound).length
  const each = sheets.length > 1 ? ' on average' : ''
  return (
    `${what}: ${formatCounted(sheets.length, 'drill')}, ${found} found; ` +
    `${mean(({ readings }) => readings)} readings, ${mean(({ minutes }) => minutes)} min and ${mean(({ points }) => points)} points${each}.`
  )
}

/** A drill that was left before it was over: how far it had come. */
export function describeKept({ readings, called }: DrillStood): string {
  const wrong = called.filter(({ isRight }) => !isRight).length
  const far = [formatCounted(readings.length, 'reading'), formatCounted(wrong, 'wrong call')].join(' and ')
  return `A drill on this site was left before it was over, with ${far}. It can go on where it stood; another drill takes its place.`
}

/** What stopping has done. */
export function describeStopped(answer: DrillAnswer): string {
  return `Stopped. The drill stands: ${describeStanding(answer)}.`
}

/** How the drill stands, in a line. */
export function describeStanding({ readings, minutes, called, asked }: DrillAnswer): string {
  const wrong = called.filter(({ isRight }) => !isRight).length
  return [
    formatCounted(readings.length, 'reading'),
    formatDrillMinutes(minutes),
    formatCounted(wrong, 'wrong call'),
    ...(asked.length > 0 ? [`asked ${formatCounted(asked.length, 'time')}`] : []),
  ].join(', ')
}

export function nameDrillKit({ name }: Kit): string {
  return printable(name, 80)
}

/** Columns of the attendance and result sheet. */
export const sheetColumns = [
  'When, where',
  'Trainee',
  'Trainer',
  'Drill, instrument',
  'Joint',
  'Readings',
  'Minutes',
  'Wrong calls',
  'Bad tests named',
  'Asked the program',
  'Points',
] as const

/** Under the sheet: what it is worth. */
export const sheetNote =
  'Readings were simulated. Points measure this drill and nothing else: they are no proof of competence and no permission to ' +
  'work on a bonding network.'
