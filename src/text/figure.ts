/** A number that a reader may ask about: what it was computed from, by which formula and whose rule. */
export interface Figure {
  /** With its unit: `14 A`. */
  readonly value: string
  /** What it is: `Fault current`. */
  readonly name: string
  /** The formula or the method, in a sentence. */
  readonly how: string
  /** What went into it, with units. */
  readonly inputs: readonly { readonly name: string; readonly value: string }[]
  /** Source, edition, and how sure: never empty. */
  readonly rules: readonly string[]
}

/** A sentence some of whose pieces are figures. */
export type FigureText = readonly (string | Figure)[]

/** A sentence with figures in it, written as one writes a string. */
export function told(
  texts: TemplateStringsArray,
  ...pieces: readonly (string | Figure | FigureText)[]
): FigureText {
  return texts.flatMap((text, k) => {
    const piece = pieces.at(k)
    const said = k >= pieces.length || piece === undefined ? [] : isText(piece) ? piece : [piece]
    return [...(text === '' ? [] : [text]), ...said]
  })
}

function isText(piece: string | Figure | FigureText): piece is FigureText {
  return Array.isArray(piece)
}

/** The sentence as it is read aloud. */
export function plainText(text: FigureText): string {
  return text.map((piece) => (typeof piece === 'string' ? piece : piece.value)).join('')
}

export const figureTexts = {
  title: (name: string) => `${name}: what it was computed from`,
  spoken: 'what it was computed from',
  by: 'By:',
} as const
