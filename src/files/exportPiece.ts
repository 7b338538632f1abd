/** A stretch of an exported file, and how much of the file is written with it. */
export interface ExportPiece {
  readonly text: string
  readonly fraction: number
}

/** Lines in one piece: some hundred kilobytes. */
export const linesInPiece = 2_000

/** The whole file as one text, for callers that have nothing else to do. */
export function wholeText(pieces: Iterable<ExportPiece>): string {
  let text = ''
  for (const piece of pieces) text += piece.text
  return text
}

/** Length of a file of `count` lines in bytes, from a stretch of them that begins with its head. */
export function estimateBytes(sample: string, sampleLines: number, count: number): number {
  const bytes = new TextEncoder().encode(sample).length
  return sampleLines <= 0 ? bytes : Math.round((bytes * Math.max(count, 1)) / sampleLines)
}
