import type { Share } from './figures.ts'
import type { Interval } from './scores/interval.ts'

export const percent = (value: number): string => (100 * value).toFixed(1)

export function shareText({ hits, tries, low, high }: Share): string {
  if (tries === 0) return 'none'
  return `${percent(hits / tries)} % (${percent(low)} to ${percent(high)}; ${hits} of ${tries})`
}

export const figureText = ({ value, low, high }: Interval, digits = 2): string =>
  `${value.toFixed(digits)} (${low.toFixed(digits)} to ${high.toFixed(digits)})`

export function table(head: readonly string[], lines: readonly (readonly string[])[]): string {
  const rule = head.map((_, k) => (k === 0 ? '---' : '---:'))
  return [head, rule, ...lines].map((cells) => `| ${cells.join(' | ')} |`).join('\n')
}

/** Puts texts between their marks; a document without a mark is a mistake. */
export function betweenMarks(text: string, tables: Readonly<Record<string, string>>): string {
  let out = text
  for (const [name, body] of Object.entries(tables)) {
    const [open, close] = [`<!-- locating ${name} -->`, `<!-- /locating ${name} -->`]
    const [from, to] = [out.indexOf(open), out.indexOf(close)]
    if (from < 0 || to < from) throw new Error(`no mark for ${name}`)
    out = `${out.slice(0, from + open.length)}\n\n${body}\n\n${out.slice(to)}`
  }
  return out
}
