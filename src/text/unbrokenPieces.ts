/** A piece of a sentence, and whether its line may not be broken within it. */
export interface SentencePiece {
  readonly text: string
  readonly isWhole: boolean
}

/** What is longer has to be broken on a narrow screen. */
const mostLetters = 20
const marks = /[-/+~]/
const candidate = /[\p{L}\p{N}._~+/-]*\p{N}[\p{L}\p{N}._~+/-]*(?: (?:[µmkM]?Ω|%))?/gu

/**
 * Splits a sentence where labels and values stand that read wrongly when a line ends within them: what holds a
 * digit and a hyphen or another joining mark (`4-06`, `R4/T7`), and a number with its ohms or per cent. The pieces joined are
 * the sentence.
 */
export function unbrokenPieces(sentence: string): readonly SentencePiece[] {
  const pieces: SentencePiece[] = []
  let end = 0
  for (const { 0: found, index } of sentence.matchAll(candidate)) {
    if ([...found].length > mostLetters || !(marks.test(found) || found.includes(' '))) continue
    if (index > end) pieces.push({ text: sentence.slice(end, index), isWhole: false })
    pieces.push({ text: found, isWhole: true })
    end = index + found.length
  }
  if (end < sentence.length) pieces.push({ text: sentence.slice(end), isWhole: false })
  return pieces
}
