import { escapedXml } from '../../base/escapedXml.ts'
import type { ComparisonGroup, LevelSpan } from '../../model/comparison.ts'
import {
  comparisonTexts,
  describeLevel,
  formatReadOf,
  nameMiddle,
  nameMark,
} from '../../text/comparisonText.ts'
import { formatOhm } from '../../text/ohms.ts'
import { layLabels, type LaidLabel } from './layLabels.ts'
import { layStrip, stripPath, type StripLayout, type StripMark } from './layStrip.ts'

export interface StripSvgOptions {
  readonly widthPx: number
  /** What a reading is called, by the id of its entry. */
  readonly numberOf: (entry: string) => number
}

/** Room at the right, for what is written beside the rightmost mark. */
const besidePx = 190
const plotPx = 92
const lanePx = 13
const fontPx = 11
const mostNamed = 12

/**
 * The readings of a group on a scale of ohms, for paper: black on white, what stands out named with its value, the levels of
 * its criterion and the middle of the group written out. What is a mark of what is told by its shape. Text that comes from
 * the site stands in none of it. O(readings).
 */
export function stripSvg(group: ComparisonGroup, { widthPx, numberOf }: StripSvgOptions): string {
  const layout = layStrip(group, widthPx - besidePx, plotPx)
  const labels = layLabels(labelsOf(group, layout, numberOf), widthPx, fontPx)
  const lanes = labels.reduce((most, { lane }) => Math.max(most, lane + 1), 0)
  const topPx = lanes * lanePx
  const heightPx = topPx + plotPx
  const { baseY, middleX } = layout
  const plot = [
    ...[layout.investigate, layout.reject].flatMap((level, k) =>
      level === null
        ? []
        : [
            `<rect x="${figure(level.fromX - 1)}" width="${figure(Math.max(k + 1.5, level.toX - level.fromX))}" ` +
              `y="0" height="${baseY}" opacity="${level.toX - level.fromX > 4 ? 0.3 : 1}"/>`,
          ],
    ),
    line(middleX, 0, middleX, baseY, ' stroke-dasharray="2 3"'),
    ...layout.bars.map(
      ({ x, width, height }) =>
        `<rect x="${figure(x)}" width="${width}" y="${figure(baseY - height)}" height="${figure(height)}" fill="#888"/>`,
    ),
    ...[...layout.marks].sort(byWeight).map(markOf),
    line(0, baseY, widthPx - besidePx, baseY),
    ...layout.ticks.map(
      ({ x, textX, ohm }) =>
        line(x, baseY, x, baseY + 4) +
        `<text x="${figure(textX)}" y="${plotPx - 5}" text-anchor="middle">${escapedXml(formatOhm(ohm))}</text>`,
    ),
    `<text x="${widthPx - besidePx + 8}" y="${baseY + 4}">${comparisonTexts.scale}</text>`,
  ]
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${widthPx} ${heightPx}" ` +
    `font-family="Liberation Sans, Arial, Helvetica, sans-serif" font-size="${fontPx}">` +
    `<g transform="translate(0 ${topPx})">${plot.join('')}</g>` +
    labels.map((label) => labelSvg(label, topPx, layout)).join('') +
    '</svg>'
  )
}

interface Named {
  readonly x: number
  readonly text: string
  /** Where the line from the name ends, counted down from the top of the plot. */
  readonly downToY: number
  readonly isStrong: boolean
}

/** What stands out, the highest first where there are too many to name; and what the lines are. */
function labelsOf(
  group: ComparisonGroup,
  { marks, investigate, reject, middleX }: StripLayout,
  numberOf: (entry: string) => number,
): readonly Named[] {
  const out = marks
    .filter(({ shape }) => shape !== 'dot')
    .sort((a, b) => b.reading.ratio - a.reading.ratio)
    .slice(0, mostNamed)
  const levels: readonly (readonly [string, LevelSpan | null, number | undefined])[] = [
    [comparisonTexts.investigate, group.investigate, investigate?.fromX],
    [comparisonTexts.reject, group.reject, reject?.fromX],
  ]
  return [
    ...out.map(({ x, y, reading }) => ({
      x,
      text: nameMark(numberOf(reading.entry), formatReadOf(reading)),
      downToY: y - 8,
      isStrong: true,
    })),
    ...levels.flatMap(([word, span, x]) =>
      span === null || x === undefined
        ? []
        : [{ x, text: describeLevel(word, span.lowOhm, span.highOhm), downToY: 0, isStrong: false }],
    ),
    { x: middleX, text: nameMiddle(group.middleOhm), downToY: 0, isStrong: false },
  ]
}

function labelSvg({ label, lane }: LaidLabel<Named>, topPx: number, { baseY }: StripLayout): string {
  const { x, text, downToY, isStrong } = label
  const y = topPx - lane * lanePx
  const end = topPx + Math.min(downToY, baseY)
  return (
    line(x, y - lanePx + 3, x, end, ' stroke-width="0.6"') +
    `<text x="${figure(x + 3)}" y="${y - 3}"${isStrong ? ' font-weight="bold"' : ''}>${escapedXml(text)}</text>`
  )
}

/** What stands out is drawn last, so that nothing lies over it. */
const byWeight = (a: StripMark, b: StripMark) => Number(a.shape !== 'dot') - Number(b.shape !== 'dot')

function markOf(mark: StripMark): string {
  const look = {
    dot: 'fill="#ccc" stroke="#000" stroke-width="0.8"',
    diamond: 'fill="#fff" stroke="#000" stroke-width="2"',
    triangle: 'fill="#000" stroke="#fff" stroke-width="1"',
    arrow: 'fill="#000" stroke="#fff" stroke-width="1"',
  }[mark.shape]
  return `<path d="${stripPath({ ...mark, x: rounded(mark.x), y: rounded(mark.y) })}" ${look}/>`
}

function line(x1: number, y1: number, x2: number, y2: number, more = ''): string {
  const [a, b, c, d] = [x1, y1, x2, y2].map(figure)
  return `<line x1="${a}" y1="${b}" x2="${c}" y2="${d}" stroke="#000"${more}/>`
}

const rounded = (value: number) => Math.round(value * 100) / 100
const figure = (value: number) => String(rounded(value))
