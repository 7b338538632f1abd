import type { LocateAnswer } from '../model/answers.ts'
import { capital, formatChance } from './units.ts'

const numberWords = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

function inLetters(count: number): string {
  return numberWords[count] ?? String(count)
}

function chanceOf({ badCount }: LocateAnswer, isCounted: (count: number) => boolean): number {
  return Math.min(
    1,
    badCount.reduce((sum, chance, k) => (isCounted(k) ? sum + chance : sum), 0),
  )
}

/** The likeliest number of bad joints, of those that the readings can show. */
export function likeliestCount({ badCount }: LocateAnswer): number {
  return badCount.indexOf(Math.max(...badCount))
}

/** A number of joints, or a stretch of numbers, is said where it has so much of the chance. */
const sure = 0.7

/** `Probably two bad joints`, `Probably two or three bad joints`, `Probably three to six bad joints`. */
export function describeHowMany(answer: LocateAnswer): string {
  const { badCount } = answer
  let least = likeliestCount(answer)
  let most = least
  while (
    chanceOf(answer, (k) => k >= least && k <= most) < sure &&
    (least > 1 || most < badCount.length - 1)
  ) {
    const before = least > 1 ? badCount[least - 1] : -1
    const after = badCount[most + 1] ?? -1
    if (before > after) least--
    else most++
  }
  const between = most === least + 1 ? 'or' : 'to'
  const count = least === most ? inLetters(most) : `${inLetters(least)} ${between} ${inLetters(most)}`
  return `Probably ${count} bad ${most === 1 ? 'joint' : 'joints'}`
}

/** From here on it is told that more than one joint may be bad. */
const worthTelling = 0.05

/**
 * `One bad joint: 62 %, two: 30 %, three or more: 8 %.`: the numbers next to the likeliest; null where more than one is
 * hardly possible.
 */
export function describeCounts(answer: LocateAnswer): string | null {
  if (chanceOf(answer, (k) => k >= 2) <= worthTelling) return null
  const first = Math.max(1, likeliestCount(answer) - 1)
  const said = [
    ...(first > 1 ? [{ words: `fewer than ${inLetters(first)}`, is: (k: number) => k < first }] : []),
    { words: inLetters(first), isOne: first === 1, is: (k: number) => k === first },
    { words: inLetters(first + 1), is: (k: number) => k === first + 1 },
    { words: `${inLetters(first + 2)} or more`, is: (k: number) => k >= first + 2 },
  ]
  const terms = said
    .filter(({ is }) => chanceOf(answer, is) >= 0.01)
    .map(({ words, isOne = false, is }, k) => {
      const joints = k > 0 ? '' : isOne ? ' bad joint' : ' bad joints'
      return `${words}${joints}: ${formatChance(chanceOf(answer, is))}`
    })
  return `${capital(terms.join(', '))}.`
}
