import { format, line, scaleLog } from 'd3'

export interface Series {
  readonly name: string
  readonly colour: string
  readonly points: readonly (readonly [x: number, y: number])[]
}

export interface PlotWords {
  readonly title: string
  readonly xTitle: string
  readonly yTitle: string
  readonly yTick: (value: number) => string
}

const size = { width: 860, height: 520 }
const inner = { left: 78, right: 290, top: 48, bottom: 56 }
const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
const withinDecade = (value: number) => Math.log10(value) - Math.floor(Math.log10(value) + 1e-9) < 1e-6
const tenth = (value: number) => value.toFixed(1)

/**
 * A plot with two logarithmic axes as the text of an SVG file; each series is named at its last point, names
 * pushed apart where they would touch. All values must be above 0.
 */
export function logLogPlot(words: PlotWords, series: readonly Series[]): string {
  const all = series.flatMap(({ points }) => points)
  const right = size.width - inner.right
  const bottom = size.height - inner.bottom
  const x = scaleLog(decades(all.map(([value]) => value)), [inner.left, right])
  const y = scaleLog(decades(all.map(([, value]) => value)), [bottom, inner.top])
  const path = line<readonly [number, number]>(
    ([value]) => x(value),
    ([, value]) => y(value),
  )
  const labelY = spread(
    series.map(({ points }) => y(points[points.length - 1][1])),
    17,
  )
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${size.width} ${size.height}" role="img" font-family="system-ui, sans-serif" font-size="13">`,
    `<title>${escaped(words.title)}</title>`,
    `<rect width="${size.width}" height="${size.height}" fill="#ffffff"/>`,
    `<text x="${inner.left}" y="24" font-size="15" font-weight="600" fill="#1b1f24">${escaped(words.title)}</text>`,
  ]
  for (const value of x.ticks()) {
    const at = tenth(x(value))
    const isDecade = withinDecade(value)
    parts.push(
      `<path d="M${at},${inner.top}V${bottom}" stroke="${isDecade ? '#c4cad2' : '#eceef1'}" fill="none"/>`,
    )
    if (isDecade) {
      const label = escaped(format(',')(value).replaceAll(',', '\u202f'))
      parts.push(`<text x="${at}" y="${bottom + 20}" text-anchor="middle" fill="#3d444d">${label}</text>`)
    }
  }
  for (const value of y.ticks().filter(withinDecade)) {
    const at = tenth(y(value))
    parts.push(`<path d="M${inner.left},${at}H${right}" stroke="#c4cad2" fill="none"/>`)
    const label = escaped(words.yTick(value))
    parts.push(
      `<text x="${inner.left - 8}" y="${Number(at) + 4}" text-anchor="end" fill="#3d444d">${label}</text>`,
    )
  }
  series.forEach(({ name, colour, points }, k) => {
    const [lastX, lastY] = points[points.length - 1]
    parts.push(`<path d="${path(points) ?? ''}" fill="none" stroke="${colour}" stroke-width="2"/>`)
    for (const [px, py] of points)
      parts.push(`<circle cx="${tenth(x(px))}" cy="${tenth(y(py))}" r="3.2" fill="${colour}"/>`)
    const from = `${tenth(x(lastX) + 5)},${tenth(y(lastY))}`
    parts.push(`<path d="M${from}L${right + 12},${tenth(labelY[k])}" stroke="${colour}" fill="none"/>`)
    parts.push(`<text x="${right + 16}" y="${tenth(labelY[k] + 4)}" fill="${colour}">${escaped(name)}</text>`)
  })
  const middle = (inner.left + right) / 2
  parts.push(
    `<text x="${middle}" y="${size.height - 14}" text-anchor="middle" fill="#1b1f24">${escaped(words.xTitle)}</text>`,
    `<text transform="translate(18,${(inner.top + bottom) / 2}) rotate(-90)" text-anchor="middle" fill="#1b1f24">${escaped(words.yTitle)}</text>`,
    '</svg>',
  )
  return `${parts.join('\n')}\n`
}

/** The whole decades around values. */
export function decades(values: readonly number[]): [number, number] {
  const low = Math.floor(Math.log10(Math.min(...values)) + 1e-9)
  const high = Math.ceil(Math.log10(Math.max(...values)) - 1e-9)
  return [10 ** low, 10 ** Math.max(high, low + 1)]
}

/** Heights in the same order as given, moved as little apart as `gap` asks for, and none lower than its place needs. */
export function spread(heights: readonly number[], gap: number): number[] {
  const order = heights.map((_, k) => k).sort((a, b) => heights[a] - heights[b])
  // blocks of neighbours that touch stand centred on the mean of their own places
  const blocks: { members: number[]; centre: number }[] = []
  for (const k of order) {
    let block = { members: [k], centre: heights[k] }
    for (let above = blocks[blocks.length - 1]; above; above = blocks[blocks.length - 1]) {
      const room = (gap * (above.members.length + block.members.length)) / 2
      if (block.centre - above.centre >= room - 1e-9) break
      blocks.pop()
      const members = [...above.members, ...block.members]
      block = { members, centre: members.reduce((sum, m) => sum + heights[m], 0) / members.length }
    }
    blocks.push(block)
  }
  const placed = [...heights]
  for (const { members, centre } of blocks)
    members.forEach((m, i) => (placed[m] = centre + gap * (i - (members.length - 1) / 2)))
  return placed
}
