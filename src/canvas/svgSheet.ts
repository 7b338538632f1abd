import { escapedXml } from '../base/escapedXml.ts'
import type { ShapeSink } from './rasteriser.ts'

/** Two decimals of a pixel: a picture can be made ten times as large before a step shows. */
export function svgFigure(value: number): string {
  return String(Math.round(value * 100) / 100 + 0)
}

function inkOf(colour: number): string {
  const channel = (shift: number) => ((colour >>> shift) & 255).toString(16).padStart(2, '0')
  return `#${channel(0)}${channel(8)}${channel(16)}`
}

/**
 * A drawing as SVG. It takes what the base layer draws as shapes, and what is drawn into a canvas context, in one order.
 * Shapes of one colour that follow each other become one path; what lies out of sight is left out.
 */
export class SvgSheet {
  readonly #widthPx: number
  readonly #heightPx: number
  readonly #parts: string[] = []
  #run: { readonly ink: string; readonly opacity: number; readonly path: string[] } | null = null

  constructor(widthPx: number, heightPx: number) {
    this.#widthPx = widthPx
    this.#heightPx = heightPx
  }

  /** Takes shapes whose unit is a share of the pixel: `perPx` of them make one. */
  sink(perPx: number): ShapeSink {
    const add = (colour: number, opacity: number, box: Box, path: () => string) => {
      if (this.#isSeen(box)) this.#addShape(inkOf(colour), opacity, path())
    }
    const px = (value: number) => value / perPx
    return {
      clear: (colour) =>
        add(colour, 1, [0, 0, this.#widthPx, this.#heightPx], () =>
          rectPath(0, 0, this.#widthPx, this.#heightPx),
        ),
      area: (rings, colour) => {
        if (rings.length === 0) return
        this.#endRun()
        const path = rings.map((ring) => polygonPath(ring.map(px))).join('')
        this.#parts.push(`<path fill="${inkOf(colour)}" fill-rule="evenodd" d="${path}"/>`)
      },
      rect: (x0, y0, x1, y1, colour, opacity) => {
        if (!(x1 > x0 && y1 > y0)) return
        const box: Box = [px(x0), px(y0), px(x1), px(y1)]
        add(colour, opacity, box, () => rectPath(...box))
      },
      box: (cx, cy, ux, uy, halfAlong, halfAcross, colour, opacity) => {
        const [ax, ay] = [px(ux * halfAlong), px(uy * halfAlong)]
        const [bx, by] = [px(-uy * halfAcross), px(ux * halfAcross)]
        const [x, y] = [px(cx), px(cy)]
        const [reachX, reachY] = [Math.abs(ax) + Math.abs(bx), Math.abs(ay) + Math.abs(by)]
        add(colour, opacity, [x - reachX, y - reachY, x + reachX, y + reachY], () =>
          polygonPath([
            x - ax - bx,
            y - ay - by,
            x + ax - bx,
            y + ay - by,
            x + ax + bx,
            y + ay + by,
            x - ax + bx,
            y - ay + by,
          ]),
        )
      },
      ring: (cx, cy, inner, outer, colour, opacity) => {
        const [x, y, r] = [px(cx), px(cy), px(outer)]
        add(
          colour,
          opacity,
          [x - r, y - r, x + r, y + r],
          () => circlePath(x, y, r, 1) + (inner > 0 ? circlePath(x, y, px(inner), 0) : ''),
        )
      },
    }
  }

  /** One element of its own. */
  add(element: string): void {
    this.#endRun()
    this.#parts.push(element)
  }

  /** The document: its name first, for whoever reads it aloud. */
  text(title: string): string {
    this.#endRun()
    const size = `width="${svgFigure(this.#widthPx)}" height="${svgFigure(this.#heightPx)}"`
    const box = `viewBox="0 0 ${svgFigure(this.#widthPx)} ${svgFigure(this.#heightPx)}"`
    return (
      `<svg xmlns="http://www.w3.org/2000/svg" ${size} ${box} role="img">\n` +
      `<title>${escapedXml(title)}</title>\n${this.#parts.join('\n')}\n</svg>\n`
    )
  }

  #isSeen([left, top, right, bottom]: Box): boolean {
    return right > 0 && bottom > 0 && left < this.#widthPx && top < this.#heightPx
  }

  #addShape(ink: string, opacity: number, path: string): void {
    if (this.#run?.ink !== ink || this.#run.opacity !== opacity) {
      this.#endRun()
      this.#run = { ink, opacity, path: [] }
    }
    this.#run.path.push(path)
  }

  #endRun(): void {
    if (!this.#run) return
    const { ink, opacity, path } = this.#run
    const faint = opacity < 1 ? ` fill-opacity="${svgFigure(opacity)}"` : ''
    this.#parts.push(`<path fill="${ink}"${faint} d="${path.join('')}"/>`)
    this.#run = null
  }
}

type Box = readonly [number, number, number, number]

function rectPath(x0: number, y0: number, x1: number, y1: number): string {
  return `M${svgFigure(x0)} ${svgFigure(y0)}H${svgFigure(x1)}V${svgFigure(y1)}H${svgFigure(x0)}Z`
}

function polygonPath(at: readonly number[]): string {
  let path = ''
  for (let i = 0; i < at.length; i += 2)
    path += `${i === 0 ? 'M' : 'L'}${svgFigure(at[i])} ${svgFigure(at[i + 1])}`
  return `${path}Z`
}

/** A hole is a circle that runs the other way round. */
function circlePath(x: number, y: number, r: number, sweep: 0 | 1): string {
  const [size, across] = [svgFigure(r), svgFigure(2 * r)]
  return `M${svgFigure(x - r)} ${svgFigure(y)}a${size} ${size} 0 1 ${sweep} ${across} 0a${size} ${size} 0 1 ${sweep} -${across} 0Z`
}
