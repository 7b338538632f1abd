import { randomStream } from '../../../src/base/random.ts'
import type { MapGeometry } from '../../../src/canvas/geometry.ts'
import { HitIndex } from '../../../src/canvas/hitIndex.ts'
import { partTowards, type Direction } from '../../../src/canvas/mapKeyboard.ts'
import { tapUnder } from '../../../src/canvas/mapTap.ts'
import type { View } from '../../../src/canvas/mapTypes.ts'
import { Overlay } from '../../../src/canvas/overlay.ts'
import type { Palette } from '../../../src/canvas/palette.ts'
import { partPointM } from '../../../src/canvas/markPoints.ts'
import type { MapMarks } from '../../../src/state/mapMarks.ts'

/** Milliseconds of one look under the pointer, and of one step of the keyboard to a neighbour. */
export interface HitTimes {
  readonly pxPerM: number
  readonly hitMs: readonly number[]
  readonly stepMs: readonly number[]
}

const tries = 300
const directions: readonly Direction[] = ['left', 'right', 'up', 'down']

export function timeHits(
  geometry: MapGeometry,
  marks: MapMarks,
  palette: Palette,
  container: HTMLElement,
): readonly HitTimes[] {
  const { minX, minY, maxX, maxY } = geometry.boundsM
  const { clientWidth: widthPx, clientHeight: heightPx } = container
  const fit = Math.min(widthPx / (maxX - minX), heightPx / (maxY - minY))
  const hits = new HitIndex(geometry)
  return [fit, 3, 30].map((k) => {
    const random = randomStream(5)
    const x = widthPx / 2 - (k * (minX + maxX)) / 2
    const y = heightPx / 2 + (k * (minY + maxY)) / 2
    const view: View = { x, y, k, widthPx, heightPx, dpr: 1 }
    const div = document.createElement('div')
    container.append(div)
    const overlay = new Overlay(div)
    overlay.update({ geometry, marks, palette })
    const inset = { top: 0, right: 0, bottom: 0, left: 0 }
    overlay.layOut({ view, inset, isMoving: false, link: null, aim: null, hasNote: false })
    overlay.show()
    const timed = (what: () => unknown): number => {
      const begin = performance.now()
      what()
      return performance.now() - begin
    }
    const hitMs = Array.from({ length: tries }, () => {
      const at = { x: random.uniform() * widthPx, y: random.uniform() * heightPx }
      return timed(() => tapUnder(geometry, hits, overlay, view, at, 6))
    })
    let part = hits.partAt((minX + maxX) / 2, (minY + maxY) / 2, maxX - minX, 'frames')
    const leastM = Math.max(10 / k, 0.05)
    const stepMs = Array.from({ length: tries }, (_, i) => {
      let next = -1
      const ms = timed(() => {
        next = partTowards(geometry, hits, part, directions[Math.floor(i / 10) % 4], {
          leastM,
          toAnyPart: false,
        })
      })
      if (next >= 0 && partPointM(geometry, next)) part = next
      return ms
    })
    overlay.destroy()
    div.remove()
    return { pxPerM: k, hitMs, stepMs }
  })
}
