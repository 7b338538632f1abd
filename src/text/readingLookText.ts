/** The looks that a reading can have on the map, in lists and in the legend. */
export type LookName =
  'within' | 'investigate' | 'overRange' | 'poorContact' | 'noMetalPath' | 'tooLow' | 'setAside' | 'waiting'

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
}

export const lookNames = Object.keys(lookTexts) as readonly LookName[]

/** The looks of pairs that are to be read, with the words that stand beside them. */
export const pairLookWords = {
  required: 'pair that the contract asks for',
  planned: 'pair of the plan',
  proposed: 'pair of the proposal',
} as const

export type LineName = LookName | keyof typeof pairLookWords

/** The lines that are on the map, each with its words: pairs first, then readings as `lookNames` has them. */
export function lineEntries(looks: readonly LineName[]): readonly { look: LineName; word: string }[] {
  const pairs = Object.entries(pairLookWords) as [keyof typeof pairLookWords, string][]
  return [
    ...pairs.map(([look, word]) => ({ look, word })),
    ...lookNames.map((look) => ({ look, word: `reading: ${lookTexts[look].word}` })),
  ].filter(({ look }) => looks.includes(look))
}
