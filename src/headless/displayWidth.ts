/** Marks that stand on the letter before them, and characters without any width. */
const noWidth = /^[\p{M}\p{Cf}\p{Cc}]$/u
/** Characters that a terminal draws two columns wide. */
const doubleWidth =
  /^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Emoji_Presentation}\uFF01-\uFF60]$/u

/** Columns that a text takes on a terminal. Plain ASCII, nearly all there is, is counted at once. */
export function displayWidth(text: string): number {
  if (/^[ -~]*$/.test(text)) return text.length
  let width = 0
  for (const character of text) {
    if (noWidth.test(character)) continue
    width += doubleWidth.test(character) ? 2 : 1
  }
  return width
}

export function padEnd(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - displayWidth(text)))
}

export function padStart(text: string, width: number): string {
  return ' '.repeat(Math.max(0, width - displayWidth(text))) + text
}

const breakingSpace = /(?<![<>±]) (?!(?:[µmkM]?Ω|%|bits?)(?:\P{L}|$))/u

/**
 * Breaks a text at spaces into lines of at most `width` columns, but not between a number and its unit or sign.
 * A word that is longer is broken inside, never dropped. The first line is always there, even for an empty text.
 */
export function wrapText(text: string, width: number): string[] {
  const most = Math.max(1, width)
  const lines: string[] = []
  let line = ''
  for (const word of text.split(breakingSpace)) {
    const joined = line === '' ? word : `${line} ${word}`
    if (displayWidth(joined) <= most) {
      line = joined
      continue
    }
    if (line !== '') lines.push(line)
    const pieces = breakWord(word, most)
    lines.push(...pieces.slice(0, -1))
    line = pieces[pieces.length - 1]
  }
  lines.push(line)
  return lines
}

function breakWord(word: string, most: number): string[] {
  const pieces: string[] = []
  let piece = ''
  let width = 0
  for (const character of word) {
    const own = displayWidth(character)
    if (piece !== '' && width + own > most) {
      pieces.push(piece)
      piece = ''
      width = 0
    }
    piece += character
    width += own
  }
  return [...pieces, piece]
}
