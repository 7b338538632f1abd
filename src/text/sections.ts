/** A piece of a longer text: the panels show it as a list, a terminal as an indented line. */
export interface TextLine {
  readonly text: string
  /** 0 for a paragraph, 1 for an item under it, 2 for what supports that item. */
  readonly level: 0 | 1 | 2
  /** Parts or joints that the line speaks of, so that a panel can offer to show them. */
  readonly about?: readonly string[]
}

export interface TextSection {
  readonly title: string
  readonly lines: readonly TextLine[]
}

export const paragraph = (text: string, about?: readonly string[]): TextLine => ({
  text,
  level: 0,
  ...(about && { about }),
})
export const item = (text: string, about?: readonly string[]): TextLine => ({
  text,
  level: 1,
  ...(about && { about }),
})
export const support = (text: string): TextLine => ({ text, level: 2 })
