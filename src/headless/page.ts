import type { TextLine, TextSection } from '../text/sections.ts'
import { wrapText } from './displayWidth.ts'
import { formatTable, type Column } from './table.ts'

/** How the reader's side looks: a width to keep to, and whether emphasis can be shown. */
export interface PageStyle {
  /** Columns of a terminal; Infinity where the output is no terminal. */
  readonly width: number
  readonly isTerminal: boolean
}

/** Running text keeps to a width that the eye can follow, whatever the terminal has. */
const mostColumns = 100

/** Collects the lines of a human-readable answer. */
export class Page {
  readonly #lines: string[] = []
  readonly #style: PageStyle

  constructor(style: PageStyle) {
    this.#style = style
  }

  title(text: string): void {
    if (this.#lines.length > 0) this.#lines.push('')
    this.#lines.push(this.#style.isTerminal ? `\u001b[1m${text}\u001b[0m` : text)
  }

  text(text: string, level = 0): void {
    const indent = '  '.repeat(level)
    const width = Math.min(this.#style.width, mostColumns) - indent.length
    const [first, ...rest] = wrapText(text, width - (level > 0 ? 2 : 0))
    const marks = ['', '- ', '· '][level] ?? ''
    this.#lines.push(`${indent}${marks}${first}`)
    for (const line of rest) this.#lines.push(`${indent}${' '.repeat(marks.length)}${line}`)
  }

  sections(sections: readonly TextSection[]): void {
    for (const { title, lines } of sections) {
      this.title(title)
      for (const line of lines) this.line(line)
    }
  }

  line({ text, level }: TextLine): void {
    this.text(text, level)
  }

  table(columns: readonly Column[], rows: readonly (readonly string[])[]): void {
    this.#lines.push(...formatTable(columns, rows, this.#style.width))
  }

  /** What belongs together as name and value, one pair a line. */
  facts(pairs: readonly (readonly [string, string])[]): void {
    const width = Math.min(this.#style.width, mostColumns)
    this.#lines.push(...formatTable([{ title: '' }, { title: '' }], pairs, width))
  }

  toString(): string {
    return `${this.#lines.join('\n')}\n`
  }
}
