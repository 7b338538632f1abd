/** The looks that a reading can have on the map, in lists and in the legend. */
export type LookName =
  | 'within'
  | 'investigate'
  | 'overRange'
  | 'poorContact'
  | 'noMetalPath'
  | 'tooLow'
  | 'leadIn'
  | 'setAside'
  | 'waiting'
  | 'timesBelow'
  | 'timesNear'
  | 'timesRaised'
  | 'timesHigh'
  | 'timesFar'

export interface LookText {
  /** The word that stands beside the line wherever it is drawn. */
  readonly word: string
  /** What it means, in a sentence. */
  readonly meaning: string
  /** How it is drawn, for whoever compares it with the map. */
  readonly drawn: string
}

/** In the order in which the legend and the filter list them. */
export const lookTexts: Readonly<Record<LookName, LookText>> = {
  investigate: {
    word: 'investigate',
    meaning: 'Reads higher than the drawn network can explain, or above the level of its criterion.',
    drawn: 'thick line, triangle at its middle',
  },
  overRange: {
    word: 'over range',
    meaning: 'The instrument showed no value. Check lead, far-end clip or jaws before any joint.',
    drawn: 'long dashes, open rings at both ends',
  },
  noMetalPath: {
    word: 'no metal path',
    meaning: 'As drawn, no metal joins the two parts, so that the value is no bond.',
    drawn: 'two thin lines, broken at the middle',
  },
  poorContact: {
    word: 'poor contact',
    meaning: 'Reads high, most likely through clips or jaws: seat them on clean metal and repeat it.',
    drawn: 'row of dots, diamond at its middle',
  },
  leadIn: {
    word: 'lead not nulled',
    meaning:
      'Above its level, but the lead was not nulled and its own ohms are in the value: null it and read again.',
    drawn: 'dashes, ring at its middle',
  },
  tooLow: {
    word: 'too low',
    meaning: 'Reads lower than the network can: wrong part, or leads nulled too far.',
    drawn: 'thin line, chevron at its middle',
  },
  within: {
    word: 'in line',
    meaning: 'Reads what a sound array would, within the spread of instrument, clips and joints.',
    drawn: 'thin line, dots at both ends',
  },
  setAside: {
    word: 'set aside',
    meaning: 'Not counted; the reading says why. It stays in the record.',
    drawn: 'hairline without marks',
  },
  waiting: {
    word: 'being weighed',
    meaning: 'Just entered: the network has not been asked about it yet.',
    drawn: 'short dashes, three dots at the middle',
  },
  timesFar: {
    word: 'more than 10 times expected',
    meaning: 'Reads more than ten times what a sound array would.',
    drawn: 'thick line, three bars across',
  },
  timesHigh: {
    word: '3 to 10 times expected',
    meaning: 'Reads three to ten times what a sound array would.',
    drawn: 'heavy line, two bars across',
  },
  timesRaised: {
    word: '1.5 to 3 times expected',
    meaning: 'Reads one and a half to three times what a sound array would.',
    drawn: 'line with one bar across',
  },
  timesNear: {
    word: 'about as expected',
    meaning: 'Within one and a half times what a sound array would read, or within the spread of that.',
    drawn: 'thin line, dots at both ends',
  },
  timesBelow: {
    word: 'less than expected',
    meaning: 'Reads less than two thirds of what a sound array would.',
    drawn: 'thin line, chevron at its middle',
  },
}

const isOfTimes = (look: LookName) => look.startsWith('times')
const all = Object.keys(lookTexts) as readonly LookName[]

/** Looks by what was found of a reading: those of lists and filters. */
export const lookNames = all.filter((look) => !isOfTimes(look))
/** Looks by read ÷ expected, which the map shows instead when asked. */
export const timesLookNames = all.filter(isOfTimes)
/** Every look, in the order of the legend. */
export const everyLook = [...timesLookNames, ...lookNames]

/** How the map tells readings, beside the choice. */
export const readingsByTexts = {
  label: 'Readings by',
  finding: 'what was found',
  times: 'times expected',
} as const

/** On the map: `2.3×`, or in words where a multiple would say nothing. */
export function labelTimes(times: number | null): string {
  if (times === null) return 'in line'
  if (times > 999) return '> 999×'
  return `${Number(times.toPrecision(2))}×`
}

/** The looks of pairs that are to be read, with the words that stand beside them. */
export const pairLookWords = {
  required: 'pair that the contract asks for',
  planned: 'pair of the plan',
  proposed: 'pair of the proposal',
} as const

export type LineName = LookName | keyof typeof pairLookWords

/** The lines that are on the map, each with its words: pairs first, then readings as `everyLook` has them. */
export function lineEntries(looks: readonly LineName[]): readonly { look: LineName; word: string }[] {
  const pairs = Object.entries(pairLookWords) as [keyof typeof pairLookWords, string][]
  return [
    ...pairs.map(([look, word]) => ({ look, word })),
    ...everyLook.map((look) => ({ look, word: `reading: ${lookTexts[look].word}` })),
  ].filter(({ look }) => looks.includes(look))
}
