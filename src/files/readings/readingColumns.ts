import { unitIn, type OhmWord } from './readOhms.ts'

/** What a column of a list of readings may say. */
export const readingRoles = [
  'from',
  'to',
  'value',
  'unit',
  'over',
  'time',
  'date',
  'method',
  'instrument',
  'serial',
  'lead',
  'nulled',
  'around',
  'repeats',
  'number',
  'reverse',
  'least',
  'most',
  'testCurrent',
  'fromSpot',
  'fromSurface',
  'toSpot',
  'toSurface',
  'metalC',
  'trackerDeg',
  'currentSpike',
  'potentialSpike',
  'withdrawn',
  'note',
] as const
export type ReadingRole = (typeof readingRoles)[number]

/** For each role the number of its column, from 0; −1 where the list has none. */
export type ReadingColumns = Readonly<Record<ReadingRole, number>>

// in the order of how surely a word says it; an empty word is a heading that names nothing but a unit of ohms
const words: Readonly<Record<ReadingRole, readonly string[]>> = {
  from: [
    'from address',
    'from',
    'from point',
    'from part',
    'start',
    'first point',
    'point a',
    'point 1',
    'end a',
    'a',
  ],
  to: ['to address', 'to', 'to point', 'to part', 'end', 'second point', 'point b', 'point 2', 'end b', 'b'],
  value: [
    'read',
    'reading',
    'value',
    'resistance',
    'result',
    'measured',
    'measured value',
    'measurement',
    'forward',
    'r',
    '',
  ],
  unit: ['unit', 'units'],
  over: ['over range', 'overrange', 'over', 'ol'],
  time: ['time', 'date time', 'date and time', 'timestamp', 'taken', 'measured at', 'when', 'clock'],
  date: ['date', 'day'],
  method: ['method', 'mode', 'wires', 'test'],
  instrument: ['instrument', 'kit', 'meter', 'tester', 'device'],
  serial: ['serial', 'serial number', 'serial no', 'instrument serial'],
  lead: ['lead', 'leads', 'test lead', 'cable'],
  nulled: ['nulled', 'leads nulled', 'zeroed', 'null', 'compensated'],
  around: ['around', 'round', 'clamped round', 'joint'],
  repeats: ['repeats', 'repeat', 'repeat of', 'repeated'],
  number: ['number', 'no', 'nr', 'reading number', 'reading no', 'id'],
  reverse: ['reverse', 'reversed', 'reverse polarity', 'backward'],
  least: ['least', 'lowest', 'minimum', 'min'],
  most: ['most', 'highest', 'maximum', 'max'],
  testCurrent: ['test current', 'current', 'i'],
  fromSpot: ['from spot', 'spot', 'first spot'],
  fromSurface: ['from surface', 'surface', 'first surface'],
  toSpot: ['to spot', 'second spot'],
  toSurface: ['to surface', 'second surface'],
  metalC: ['metal', 'metal temperature', 'temperature'],
  trackerDeg: ['tracker', 'tracker angle', 'tilt'],
  currentSpike: ['current spike', 'current spike at'],
  potentialSpike: ['potential spike', 'potential spike at'],
  withdrawn: ['withdrawn', 'not counted'],
  note: ['note', 'notes', 'remark', 'remarks', 'comment', 'comments'],
}

const unitWords = new Set([
  'a',
  'amp',
  'amps',
  'ampere',
  'amperes',
  'c',
  'deg',
  'degrees',
  'm',
  'metres',
  'meters',
])

/** `Measured_Value [mΩ]` → `measured value`: letters and digits only, without what names a unit in brackets or at its end. */
export function headingWords(heading: string): string {
  const all = heading
    .replace(/([a-z])([A-Z][a-z])/g, '$1 $2')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()
    .split(' ')
  const telling = all.filter((word, at) => {
    if (unitIn(word) !== null && word.toLowerCase() !== 'r') return false
    return !(at > 0 && at === all.length - 1 && unitWords.has(word.toLowerCase()))
  })
  return telling.join(' ').normalize('NFKD').toLowerCase().replace(/\p{M}/gu, '')
}

/** Takes each heading for the role that its words say best; each column has one role at most, the first of two alike. */
export function guessReadingColumns(header: readonly string[]): ReadingColumns {
  const found = Object.fromEntries(readingRoles.map((role) => [role, -1])) as Record<ReadingRole, number>
  const texts = header.map(headingWords)
  const isUnitOnly = texts.map((text, k) => text === '' && unitOfHeading(header[k]) !== null)
  const taken = new Set<number>()
  const deepest = Math.max(...readingRoles.map((role) => words[role].length))
  for (let depth = 0; depth < deepest; depth++) {
    for (const role of readingRoles) {
      const word = words[role][depth]
      if (word === undefined || found[role] >= 0) continue
      const at = texts.findIndex(
        (text, k) => !taken.has(k) && text === word && (word !== '' || isUnitOnly[k]),
      )
      if (at < 0) continue
      found[role] = at
      taken.add(at)
    }
  }
  return found
}

/** The unit of ohms that a heading names; null where it names none, `unclear` where capitals hide which one. */
export function unitOfHeading(heading: string): OhmWord | 'unclear' | null {
  for (const word of heading.replace(/milli[\s-]+ohm/gi, 'milliohm').split(/[^\p{L}\p{N}]+/u)) {
    const unit = /^r$/i.test(word) ? null : unitIn(word)
    if (unit !== null) return unit
  }
  return null
}
