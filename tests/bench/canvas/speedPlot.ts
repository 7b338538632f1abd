import { journeys } from './journeys.ts'
import { sceneWords, stageWords, type Scene } from './report.ts'
import type { StageName } from './stages.ts'
import { median } from './statistics.ts'

const inks: Readonly<Record<StageName, string>> = {
  empty: '#b8bec4',
  plain: '#8a6fb0',
  base: '#2f7d6b',
  'bare map': '#3c78b4',
  everything: '#c2571a',
}
const left = 210
const pxPerMs = 22
const barPx = 11
const widthPx = 760

/** Main-thread time of a frame as bars: one group for each movement of each site. */
export function speedPlot(scenes: readonly Scene[], stages: readonly StageName[]): string {
  let y = 40
  const marks: string[] = []
  const text = (x: number, at: number, words: string, more = '') =>
    marks.push(`<text x="${x}" y="${at}" ${more}>${words}</text>`)
  stages.forEach((stage, i) => {
    marks.push(`<rect x="${20 + 145 * i}" y="10" width="10" height="10" fill="${inks[stage]}"/>`)
    text(35 + 145 * i, 19, stageWords[stage])
  })
  for (const scene of scenes) {
    y += 14
    text(20, y, sceneWords(scene), 'font-weight="600"')
    y += 8
    for (const journey of journeys) {
      const start = y
      for (const stage of stages) {
        const runs = scene.found.get(`${journey.name}\t${stage}`)
        if (!runs) continue
        const ms = median(runs.map(({ cpuMs }) => cpuMs))
        const width = Math.min(ms * pxPerMs, widthPx - left - 50).toFixed(1)
        marks.push(
          `<rect x="${left}" y="${y}" width="${width}" height="${barPx - 2}" fill="${inks[stage]}"/>`,
        )
        text(left + Number(width) + 5, y + 8, ms.toFixed(1), 'font-size="10"')
        y += barPx
      }
      text(left - 10, (start + y) / 2 + 3, journey.name, 'text-anchor="end"')
      y += 8
    }
  }
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${widthPx} ${y + 24}" font-family="sans-serif" font-size="12" fill="#222">`,
    `<title>Main-thread time of a frame, in milliseconds</title>`,
    `<rect width="${widthPx}" height="${y + 24}" fill="#fff"/>`,
    ...marks,
    `<text x="${left}" y="${y + 14}">main thread, ms per frame</text>`,
    '</svg>',
    '',
  ].join('\n')
}
