export type Paper = 'a4' | 'letter'

/** Sides of a sheet in millimetres. */
export const paperMm: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
}

interface PageStyle {
  readonly paper: Paper
  readonly isLandscape: boolean
  /** At the head of every page, left and right. */
  readonly left: string
  readonly right: string
}

/** A text as a string of a style sheet: whatever could end it is written by its number. */
function quoted(text: string): string {
  const safe = [...text].map((letter) =>
    /[\p{L}\p{N} .,:;()/–-]/u.test(letter) ? letter : `\\${letter.codePointAt(0)!.toString(16)} `,
  )
  return `"${safe.join('')}"`
}

/** Size, margins, head and page numbers of the sheets; what only a rule for pages can say. */
export function pageStyle({ paper, isLandscape, left, right }: PageStyle): string {
  const size = `${paper === 'a4' ? 'A4' : 'letter'} ${isLandscape ? 'landscape' : 'portrait'}`
  const small = 'font: 8pt sans-serif; color: #000;'
  return `@page {
    size: ${size};
    margin: 16mm 12mm 14mm 12mm;
    @top-left { content: ${quoted(left)}; ${small} }
    @top-right { content: ${quoted(right)}; ${small} }
    @bottom-right { content: counter(page) " / " counter(pages); ${small} }
  }`
}

/** Puts a style sheet over the page until what comes back is called. */
export function wearStyle(css: string): () => void {
  const sheet = new CSSStyleSheet()
  sheet.replaceSync(css)
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
  return () => {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((worn) => worn !== sheet)
  }
}
