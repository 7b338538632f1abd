import type { GlyphContext } from '../../src/canvas/readingGlyph.ts'

/** One stroke or fill as it reaches the canvas: its path, and the pen it was made with, colour left out. */
export interface Painted {
  readonly by: 'stroke' | 'fill'
  readonly path: readonly string[]
  readonly dash: readonly number[]
  readonly widthPx: number
  readonly ink: string
}

/** A context that paints nothing and writes down everything. */
export function recordingContext(): { readonly context: GlyphContext; readonly painted: Painted[] } {
  const painted: Painted[] = []
  let path: string[] = []
  let dash: number[] = []
  const add =
    (name: string) =>
    (...values: (number | boolean | undefined)[]) =>
      void path.push(`${name} ${values.map((value) => Number(value).toFixed(2)).join(' ')}`)
  const paint = (by: 'stroke' | 'fill') => () => {
    const isStroke = by === 'stroke'
    painted.push({
      by,
      path: [...path],
      dash: isStroke ? [...dash] : [],
      widthPx: isStroke ? context.lineWidth : 0,
      ink: inkOf(isStroke ? context.strokeStyle : context.fillStyle),
    })
  }
  const context: GlyphContext = {
    strokeStyle: '',
    fillStyle: '',
    lineWidth: 1,
    lineCap: 'butt',
    lineJoin: 'miter',
    beginPath: () => void (path = []),
    moveTo: add('moveTo'),
    lineTo: add('lineTo'),
    quadraticCurveTo: add('quadraticCurveTo'),
    arc: add('arc'),
    closePath: add('closePath'),
    stroke: paint('stroke'),
    fill: paint('fill'),
    setLineDash: (next: Iterable<number>) => void (dash = [...next]),
  }
  return { context, painted }
}

function inkOf(style: GlyphContext['fillStyle']): string {
  return typeof style === 'string' ? style : 'no plain colour'
}
