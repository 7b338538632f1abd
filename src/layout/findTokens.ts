/**
 * What a person types and what is written on site, cut into words and numbers, so that capitals, spaces, dashes
 * and leading zeros make no difference: `4-06` and `4 6` are the same, `Row N2` and `row n 2` too.
 */

/** Tokens in one string with a space before each and one at the end: ` main earth bar `. */
export type TokenKey = string

/** What is looked for. */
export interface Wanted {
  readonly tokens: readonly string[]
  /** ` a b c`, without the space at the end. */
  readonly key: string
  /** Whether the last token may be the beginning of a longer one: nothing was typed after it. */
  readonly isOpen: boolean
  /** Each token as it must stand in a key: closed by a space unless a longer one will do. */
  readonly sought: readonly string[]
  readonly isNumeral: readonly boolean[]
  /** The number that is wanted where there is but one token, else 0. */
  readonly number: number
}

/** How well something fits; smaller is better. */
export const fits = { exact: 0, same: 1, begins: 2, holds: 3, none: 9 } as const
export type Fit = (typeof fits)[keyof typeof fits]

const isPlain = /^[ -~]*$/
const pieces = /\p{N}+(?:st|nd|rd|th)(?![\p{L}\p{N}])|\p{L}+|\p{N}+/gu
// Words that only join others, and of the trade's double vocabulary the half that is written here as the other.
const joining = new Set(['of', 'in', 'on', 'at', 'the', 'and', 'its', 'between', 'from', 'to'])
const alike = new Map([
  ['ground', 'earth'],
  ['grounding', 'earthing'],
  ['grounded', 'earthed'],
])

/** Words and numbers of a text, in order. Where there are neither, its signs stand for one word. */
export function findTokens(text: string): string[] {
  const plain = (isPlain.test(text) ? text : text.normalize('NFKD').replace(/\p{M}+/gu, '')).toLowerCase()
  const all = (plain.match(pieces) ?? []).map(
    (piece) => alike.get(piece) ?? piece.replace(/^0+(?=\p{N})/u, ''),
  )
  if (all.length === 0) return plain.trim() === '' ? [] : [plain.replace(/\s+/g, '')]
  const telling = all.filter((token) => !joining.has(token))
  return telling.length === 0 ? all : telling
}

export function tokenKey(tokens: readonly string[]): TokenKey {
  return tokens.length === 0 ? '' : ` ${tokens.join(' ')} `
}

export function wantedOf(tokens: readonly string[], isOpen: boolean): Wanted {
  const isNumeral = tokens.map(isNumber)
  const sought = tokens.map((token, t) => {
    const mayGoOn = t === tokens.length - 1 ? isOpen : !isNumeral[t]
    return mayGoOn ? ` ${token}` : ` ${token} `
  })
  const number = tokens.length === 1 && isNumeral[0] ? Number(tokens[0]) : 0
  const key = tokenKey(tokens).slice(0, -1)
  return { tokens, key, isOpen, sought, isNumeral, number: number > 0 ? number : 0 }
}

/** Whether typing may still add to the last token of a text. */
export function isOpenText(text: string): boolean {
  return /[\p{L}\p{N}]$/u.test(text)
}

const isNumber = (token: string) => /^\p{N}/u.test(token)

/**
 * How a key fits what is wanted: the same tokens; these tokens first; all of them somewhere, words by their
 * beginnings and in any order, numbers one after the other as they were typed. O(length of the key).
 */
export function fitOf(key: TokenKey, wanted: Wanted): Fit {
  if (key === '' || wanted.tokens.length === 0) return fits.none
  if (key.startsWith(wanted.key)) {
    if (key.length === wanted.key.length + 1) return fits.same
    if (wanted.isOpen || key.charCodeAt(wanted.key.length) === 32) return fits.begins
  }
  let afterNumber = 0
  for (let t = 0; t < wanted.sought.length; t++) {
    const isNumeral = wanted.isNumeral[t]
    const at = key.indexOf(wanted.sought[t], isNumeral ? afterNumber : 0)
    if (at < 0) return fits.none
    if (isNumeral) afterNumber = at + wanted.tokens[t].length + 1
  }
  return fits.holds
}

/**
 * How an id fits the one token that is wanted, by arithmetic: the number itself, or one whose digits begin
 * with it while it may still be typed on.
 */
export function fitOfId(id: number, wanted: Wanted): Fit {
  const { number } = wanted
  if (number === 0 || id < number) return fits.none
  if (id === number) return fits.same
  if (!wanted.isOpen) return fits.none
  let front = id
  while (front > number) front = Math.floor(front / 10)
  return front === number ? fits.begins : fits.none
}
