export type DecimalMark = 'point' | 'comma'

const plain = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i
const groupedPoint = /^[+-]?\d{1,3}(,\d{3})+\.\d+$/
const groupedComma = /^[+-]?\d{1,3}(\.\d{3})+,\d+$/

/**
 * A number as a spreadsheet writes it, or null. Spaces (also narrow ones) and apostrophes may part thousands; the other mark
 * may where a decimal mark follows, for “1,234” by itself may be either.
 */
export function readNumber(cell: string, mark: DecimalMark): number | null {
  let text = cell
    .trim()
    .replace(/^'/, '')
    .replace(/[\s\u00a0\u202f\u2009'’]/g, '')
    .replace(/^[\u2212\u2013]/, '-')
    .replace(/[°º]$/, '')
  if (mark === 'comma') {
    if (groupedComma.test(text)) text = text.replaceAll('.', '')
    else if (text.includes('.')) return null
    text = text.replace(',', '.')
  } else if (groupedPoint.test(text)) {
    text = text.replaceAll(',', '')
  }
  if (!plain.test(text)) return null
  const value = Number(text)
  return Number.isFinite(value) ? value : null
}

/** Comma where cells look like decimals with commas and none like one with a point. */
export function guessDecimalMark(cells: Iterable<string>): DecimalMark {
  let commas = 0
  for (const cell of cells) {
    if (/^\s*[-+−]?\d+\.\d+\s*$/.test(cell)) return 'point'
    if (/^\s*[-+−]?[\d.]*\d,\d+\s*$/.test(cell)) commas++
  }
  return commas > 0 ? 'comma' : 'point'
}
