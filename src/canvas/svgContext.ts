import { escapedXml } from '../base/escapedXml.ts'
import { svgFigure, type SvgSheet } from './svgSheet.ts'

interface Pen {
  fillStyle: string
  strokeStyle: string
  lineWidth: number
  lineCap: CanvasLineCap
  lineJoin: CanvasLineJoin
  globalAlpha: number
  font: string
  textAlign: CanvasTextAlign
  textBaseline: CanvasTextBaseline
  dash: readonly number[]
  /** Moved and turned; scale is never changed. */
  move: readonly [x: number, y: number, turn: number]
}

const firstPen: Pen = {
  fillStyle: '#000000',
  strokeStyle: '#000000',
  lineWidth: 1,
  lineCap: 'butt',
  lineJoin: 'miter',
  globalAlpha: 1,
  font: '10px sans-serif',
  textAlign: 'start',
  textBaseline: 'alphabetic',
  dash: [],
  move: [0, 0, 0],
}

const anchors: Readonly<Partial<Record<CanvasTextAlign, string>>> = {
  center: 'middle',
  right: 'end',
  end: 'end',
}
/** Where the letters' base line lies below the place of a text, in heights of the font. */
const baselines: Readonly<Partial<Record<CanvasTextBaseline, number>>> = {
  middle: 0.35,
  top: 0.8,
  bottom: -0.2,
}

/**
 * What of a canvas context the map's drawing functions use, written as SVG. Widths of texts are those of `measure`, the
 * context of a canvas with the same fonts.
 */
export class SvgContext {
  readonly #sheet: SvgSheet
  readonly #measure: Pick<CanvasRenderingContext2D, 'font' | 'measureText'>
  #pen: Pen = { ...firstPen }
  readonly #saved: Pen[] = []
  #path = ''

  constructor(sheet: SvgSheet, measure: Pick<CanvasRenderingContext2D, 'font' | 'measureText'>) {
    this.#sheet = sheet
    this.#measure = measure
  }

  /** For functions that draw into a canvas. They use nothing of it that is not here: a test draws everything. */
  asContext(): CanvasRenderingContext2D {
    return this as unknown as CanvasRenderingContext2D
  }

  set fillStyle(ink: string) {
    this.#pen.fillStyle = ink
  }
  get fillStyle() {
    return this.#pen.fillStyle
  }
  set strokeStyle(ink: string) {
    this.#pen.strokeStyle = ink
  }
  get strokeStyle() {
    return this.#pen.strokeStyle
  }
  set lineWidth(widthPx: number) {
    this.#pen.lineWidth = widthPx
  }
  get lineWidth() {
    return this.#pen.lineWidth
  }
  set lineCap(cap: CanvasLineCap) {
    this.#pen.lineCap = cap
  }
  get lineCap() {
    return this.#pen.lineCap
  }
  set lineJoin(join: CanvasLineJoin) {
    this.#pen.lineJoin = join
  }
  get lineJoin() {
    return this.#pen.lineJoin
  }
  set globalAlpha(alpha: number) {
    this.#pen.globalAlpha = alpha
  }
  get globalAlpha() {
    return this.#pen.globalAlpha
  }
  set font(font: string) {
    this.#pen.font = font
  }
  get font() {
    return this.#pen.font
  }
  set textAlign(align: CanvasTextAlign) {
    this.#pen.textAlign = align
  }
  get textAlign() {
    return this.#pen.textAlign
  }
  set textBaseline(baseline: CanvasTextBaseline) {
    this.#pen.textBaseline = baseline
  }
  get textBaseline() {
    return this.#pen.textBaseline
  }

  save(): void {
    this.#saved.push({ ...this.#pen })
  }

  restore(): void {
    this.#pen = this.#saved.pop() ?? this.#pen
  }

  translate(x: number, y: number): void {
    const [x0, y0, turn] = this.#pen.move
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
    this.#pen.move = [x0 + x * cos - y * sin, y0 + x * sin + y * cos, turn]
  }

  rotate(turn: number): void {
    const [x, y, before] = this.#pen.move
    this.#pen.move = [x, y, before + turn]
  }

  setLineDash(dash: readonly number[]): void {
    this.#pen.dash = [...dash]
  }

  beginPath(): void {
    this.#path = ''
  }

  closePath(): void {
    this.#path += 'Z'
  }

  moveTo(x: number, y: number): void {
    this.#path += `M${svgFigure(x)} ${svgFigure(y)}`
  }

  lineTo(x: number, y: number): void {
    this.#path += `${this.#path === '' ? 'M' : 'L'}${svgFigure(x)} ${svgFigure(y)}`
  }

  quadraticCurveTo(cx: number, cy: number, x: number, y: number): void {
    this.#path += `Q${svgFigure(cx)} ${svgFigure(cy)} ${svgFigure(x)} ${svgFigure(y)}`
  }

  /** Clockwise, as all arcs of the map are; a full turn in two halves. */
  arc(x: number, y: number, r: number, from: number, to: number): void {
    const at = (turn: number): [number, number] => [x + r * Math.cos(turn), y + r * Math.sin(turn)]
    this.lineTo(...at(from))
    const size = svgFigure(r)
    const turn = Math.min(Math.max(to - from, 0), 2 * Math.PI)
    for (const end of [from + turn / 2, from + turn]) {
      const [ex, ey] = at(end)
      this.#path += `A${size} ${size} 0 0 1 ${svgFigure(ex)} ${svgFigure(ey)}`
    }
  }

  rect(x: number, y: number, width: number, height: number): void {
    this.#path += `M${svgFigure(x)} ${svgFigure(y)}h${svgFigure(width)}v${svgFigure(height)}h${svgFigure(-width)}Z`
  }

  roundRect(x: number, y: number, width: number, height: number, radius: number): void {
    const r = Math.min(radius, width / 2, height / 2)
    const corner = (dx: number, dy: number) =>
      `a${svgFigure(r)} ${svgFigure(r)} 0 0 1 ${svgFigure(dx)} ${svgFigure(dy)}`
    this.#path +=
      `M${svgFigure(x + r)} ${svgFigure(y)}h${svgFigure(width - 2 * r)}${corner(r, r)}v${svgFigure(height - 2 * r)}${corner(-r, r)}` +
      `h${svgFigure(2 * r - width)}${corner(-r, -r)}v${svgFigure(2 * r - height)}${corner(r, -r)}Z`
  }

  fillRect(x: number, y: number, width: number, height: number): void {
    this.beginPath()
    this.rect(x, y, width, height)
    this.fill()
  }

  strokeRect(x: number, y: number, width: number, height: number): void {
    this.beginPath()
    this.rect(x, y, width, height)
    this.stroke()
  }

  fill(): void {
    if (this.#path === '') return
    this.#sheet.add(`<path d="${this.#path}" fill="${escapedXml(this.#pen.fillStyle)}"${this.#common()}/>`)
  }

  stroke(): void {
    if (this.#path === '') return
    this.#sheet.add(`<path d="${this.#path}" fill="none"${this.#strokeWords()}${this.#common()}/>`)
  }

  fillText(text: string, x: number, y: number): void {
    this.#text(text, x, y, ` fill="${escapedXml(this.#pen.fillStyle)}"`)
  }

  strokeText(text: string, x: number, y: number): void {
    this.#text(text, x, y, ` fill="none"${this.#strokeWords()}`)
  }

  measureText(text: string): TextMetrics {
    this.#measure.font = this.#pen.font
    return this.#measure.measureText(text)
  }

  #strokeWords(): string {
    const { strokeStyle, lineWidth, lineCap, lineJoin, dash } = this.#pen
    return (
      ` stroke="${escapedXml(strokeStyle)}" stroke-width="${svgFigure(lineWidth)}"` +
      (lineCap === 'butt' ? '' : ` stroke-linecap="${lineCap}"`) +
      (lineJoin === 'miter' ? '' : ` stroke-linejoin="${lineJoin}"`) +
      (dash.length === 0 ? '' : ` stroke-dasharray="${dash.map(svgFigure).join(' ')}"`)
    )
  }

  #common(): string {
    const { globalAlpha, move } = this.#pen
    const [x, y, turn] = move
    const isMoved = x !== 0 || y !== 0 || turn !== 0
    return (
      (globalAlpha < 1 ? ` opacity="${svgFigure(globalAlpha)}"` : '') +
      (isMoved
        ? ` transform="translate(${svgFigure(x)} ${svgFigure(y)}) rotate(${svgFigure((turn * 180) / Math.PI)})"`
        : '')
    )
  }

  #text(text: string, x: number, y: number, ink: string): void {
    const { font, textAlign, textBaseline } = this.#pen
    const [, weight, size, family] = /^(?:(\S+) )?([\d.]+)px (.+)$/.exec(font) ?? [
      '',
      '400',
      '10',
      'sans-serif',
    ]
    const down = (baselines[textBaseline] ?? 0) * Number(size)
    const anchor = anchors[textAlign]
    this.#sheet.add(
      `<text x="${svgFigure(x)}" y="${svgFigure(y + down)}"${anchor ? ` text-anchor="${anchor}"` : ''}` +
        ` font-family="${escapedXml(family)}" font-size="${size}" font-weight="${weight ?? '400'}"${ink}${this.#common()}>` +
        `${escapedXml(text)}</text>`,
    )
  }
}
