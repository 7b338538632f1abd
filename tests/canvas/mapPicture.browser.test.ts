import { describe, expect, it } from 'vitest'
import { render } from 'vitest-browser-svelte'
import fieldText from '../../demo-data/field.json?raw'
import MapHost from '../../src/canvas/MapHost.svelte'
import { escapedXml } from '../../src/base/escapedXml.ts'
import type { ThemeName } from '../../src/canvas/palette.ts'
import { openSite } from '../../src/files/openSite.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { noMarks, type MapMarks } from '../../src/state/mapMarks.ts'
import { shortCaution } from '../../src/text/cautions.ts'
import { lookNames } from '../../src/text/readingLookText.ts'
import { frames } from './browserInput.ts'

const hostile = '<img src=x onerror="globalThis.hurt = 1">&\u0007'
const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
if (!opened.ok) throw new Error('the field demo does not open')
const { drawing } = opened.value
const named = {
  ...drawing,
  rows: drawing.rows.map((row, k) => (k === 0 ? { ...row, label: hostile } : row)),
}
const indexed = indexSite(named)
if (!indexed.ok) throw new Error('the field demo cannot be numbered')
const index = indexed.value

const marks: MapMarks = {
  ...noMarks,
  suspects: [
    { joint: 40, probability: 0.7, rank: 1, isPicked: false },
    { joint: 900, probability: 0.1, rank: 2, isPicked: false },
  ],
  readings: lookNames.map((look, k) => ({
    entry: `entry ${k}`,
    from: 20 * k,
    to: 20 * k + 700,
    look,
    label: `${k} mΩ`,
    isPicked: false,
  })),
}

interface Host {
  pictureSvg(title: string): string | null
  picturePng(title: string, scale: number): Promise<Blob | null>
  zoomBy(factor: number): void
}

async function show(themeName: ThemeName = 'light', zoom = 1) {
  const { component, container } = await render(MapHost, { index, marks, themeName, nameOf: () => '' })
  container.style.cssText = 'position: fixed; inset: 0 auto auto 0; width: 900px; height: 600px'
  const host = component as unknown as Host
  await frames(4)
  if (zoom !== 1) host.zoomBy(zoom)
  // names and labels come once the view rests
  await new Promise((resolve) => setTimeout(resolve, 900))
  await frames(3)
  return host
}

async function pixelsOf(source: Blob): Promise<ImageData> {
  const image = new Image()
  image.src = URL.createObjectURL(source)
  await image.decode()
  const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight)
  const context = canvas.getContext('2d')!
  context.drawImage(image, 0, 0)
  return context.getImageData(0, 0, canvas.width, canvas.height)
}

/** Mean difference of a channel, 0 … 255, and the share of pixels that differ by more than a quarter of the way. */
function difference(one: ImageData, other: ImageData) {
  let sum = 0
  let far = 0
  for (let i = 0; i < one.data.length; i++) {
    const apart = Math.abs(one.data[i] - other.data[i])
    sum += apart
    if (apart > 64) far++
  }
  return { mean: sum / one.data.length, far: far / one.data.length }
}

describe('a picture of the map', () => {
  it.each([
    ['light', 1],
    ['dark', 4],
    ['sunlight', 14],
  ] as const)('as SVG looks like the one as PNG: %s, %d times closer', async (themeName, zoom) => {
    const host = await show(themeName, zoom)
    const svg = host.pictureSvg('Field')!
    const png = await host.picturePng('Field', 1)
    const [drawn, painted] = [
      await pixelsOf(new Blob([svg], { type: 'image/svg+xml' })),
      await pixelsOf(png!),
    ]
    expect([drawn.width, drawn.height]).toEqual([painted.width, painted.height])
    expect(drawn.width).toBe(900)
    expect(drawn.height).toBeGreaterThan(650)
    const { mean, far } = difference(drawn, painted)
    expect(mean).toBeLessThan(6)
    expect(far).toBeLessThan(0.03)
  })

  it('is well-formed, says its caution and its legend, and keeps hostile names as text', async () => {
    const host = await show('light', 1)
    const svg = host.pictureSvg(hostile)!
    const read = new DOMParser().parseFromString(svg, 'image/svg+xml')
    expect(read.querySelector('parsererror')).toBeNull()
    expect([...new Set([...read.querySelectorAll('*')].map(({ localName }) => localName))].sort()).toEqual([
      'path',
      'svg',
      'text',
      'title',
    ])
    expect(read.querySelector('title')?.textContent).toBe(hostile.replace('\u0007', ''))
    const texts = [...read.querySelectorAll('text')].map(({ textContent }) => textContent)
    expect(texts.join(' ')).toContain(shortCaution())
    for (const word of ['module with its frame', 'reading: investigate', 'N']) expect(texts).toContain(word)
    expect(texts.some((text) => text.includes('<img src=x'))).toBe(true)
    expect('hurt' in globalThis).toBe(false)
    expect(svg).not.toMatch(/NaN|Infinity|undefined/)
  })

  it('as PNG is as many times larger as asked for', async () => {
    const host = await show()
    const one = await pixelsOf((await host.picturePng('Field', 1))!)
    const three = await pixelsOf((await host.picturePng('Field', 3))!)
    expect(three.width).toBe(3 * one.width)
    expect(Math.abs(three.height - 3 * one.height)).toBeLessThanOrEqual(2)
  })
})

it('escapes what has a meaning in XML and drops what it forbids', () => {
  expect(escapedXml(`<a b="c">&'\u0000\u001b\ud800\ufffe x\ty`)).toBe(
    '&lt;a b=&quot;c&quot;&gt;&amp;&#39; x\ty',
  )
})
