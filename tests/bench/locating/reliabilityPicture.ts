import { line, scaleSqrt } from 'd3'
import type { Bin } from './scores/calibration.ts'

export interface ReliabilityLine {
  readonly name: string
  readonly colour: string
  readonly bins: readonly Bin[]
}

const side = 460
const edge = { left: 66, top: 44, bottom: 58, right: 250 }
const ticks = [0, 0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 1]
const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
const percent = (value: number) => `${Math.round(100 * value)}\u202f%`

/**
 * Stated chance against how often it came true, as the text of an SVG file; axes by the square root, which keeps
 * small chances apart. Bars: 1.96 standard errors. On the diagonal a method means what it says.
 */
export function reliabilityPicture(title: string, lines: readonly ReliabilityLine[]): string {
  const width = edge.left + side + edge.right
  const height = edge.top + side + edge.bottom
  const x = scaleSqrt([0, 1], [edge.left, edge.left + side])
  const y = scaleSqrt([0, 1], [edge.top + side, edge.top])
  const at = (value: number) => value.toFixed(1)
  const path = line<Bin>(
    ({ stated }) => x(stated),
    ({ outcome }) => y(outcome),
  )
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img" font-family="system-ui, sans-serif" font-size="13">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
    `<text x="${edge.left}" y="24" font-size="15" font-weight="600" fill="#1b1f24">${escaped(title)}</text>`,
  ]
  for (const tick of ticks) {
    parts.push(
      `<path d="M${at(x(tick))},${edge.top}V${edge.top + side}M${edge.left},${at(y(tick))}H${edge.left + side}" stroke="#e3e6ea" fill="none"/>`,
      `<text x="${at(x(tick))}" y="${edge.top + side + 20}" text-anchor="middle" fill="#3d444d">${percent(tick)}</text>`,
      `<text x="${edge.left - 8}" y="${at(y(tick) + 4)}" text-anchor="end" fill="#3d444d">${percent(tick)}</text>`,
    )
  }
  parts.push(
    `<path d="M${at(x(0))},${at(y(0))}L${at(x(1))},${at(y(1))}" stroke="#6b7480" stroke-dasharray="5 4"/>`,
  )
  lines.forEach(({ name, colour, bins }, k) => {
    parts.push(`<path d="${path(bins) ?? ''}" fill="none" stroke="${colour}" stroke-width="2"/>`)
    for (const { count, stated, outcome, variance } of bins) {
      const half = 1.96 * Math.sqrt(variance / count)
      const [low, high] = [Math.max(0, outcome - half), Math.min(1, outcome + half)]
      parts.push(
        `<path d="M${at(x(stated))},${at(y(low))}V${at(y(high))}" stroke="${colour}" stroke-opacity="0.5"/>`,
        `<circle cx="${at(x(stated))}" cy="${at(y(outcome))}" r="3.4" fill="${colour}"/>`,
      )
    }
    const labelY = edge.top + 20 + 22 * k
    parts.push(
      `<path d="M${edge.left + side + 16},${labelY - 4}h22" stroke="${colour}" stroke-width="2"/>`,
      `<text x="${edge.left + side + 44}" y="${labelY}" fill="#1b1f24">${escaped(name)}</text>`,
    )
  })
  parts.push(
    `<text x="${edge.left + side / 2}" y="${height - 12}" text-anchor="middle" fill="#1b1f24">chance that was stated</text>`,
    `<text transform="translate(18,${edge.top + side / 2}) rotate(-90)" text-anchor="middle" fill="#1b1f24">share that came true</text>`,
    '</svg>',
  )
  return `${parts.join('\n')}\n`
}
