import { buildGeometry, type MapGeometry } from '../../../../src/canvas/geometry.ts'
import { palettes } from '../../../../src/canvas/palette.ts'
import { noMarks, type MapMarks } from '../../../../src/state/mapMarks.ts'
import type { Journey } from '../journeys.ts'
import { stepOf } from '../journeys.ts'
import { largeIndex, type SiteSize } from '../largeSite.ts'
import { largeMarks } from '../largeMarks.ts'
import { openStage, type StageName } from '../stages.ts'
import { timeHits, type HitTimes } from '../timeHits.ts'

/** What one run of frames took, in milliseconds. */
export interface FrameTimes {
  readonly intervalsMs: readonly number[]
  /** From the beginning of each frame's own work to its end; drawing that the browser does later is not in it. */
  readonly workMs: readonly number[]
  readonly longTasksMs: readonly number[]
}

export interface OpeningTimes {
  readonly indexMs: number
  readonly geometryMs: number
  /** From mounting the map to the second frame after it. */
  readonly shownMs: number
  readonly longTasksMs: readonly number[]
}

declare global {
  interface Window {
    speed: typeof speed
  }
}

const container = document.getElementById('stage')!
let geometry: MapGeometry
let marks: MapMarks = noMarks
const longTasks: number[] = []
new PerformanceObserver((list) =>
  longTasks.push(...list.getEntries().map(({ duration }) => duration)),
).observe({
  type: 'longtask',
})

const nextFrame = () => new Promise<number>((done) => requestAnimationFrame(done))
const rest = (ms: number) => new Promise((done) => setTimeout(done, ms))

const speed = {
  async open(size: SiteSize, readings: number, suspects: number): Promise<OpeningTimes> {
    const start = performance.now()
    const index = largeIndex(size)
    const indexed = performance.now()
    geometry = buildGeometry(index)
    const built = performance.now()
    marks = largeMarks(index, readings, suspects)
    await rest(200)
    longTasks.length = 0
    const begin = performance.now()
    const stage = openStage('everything', container, geometry, marks)
    await nextFrame()
    await nextFrame()
    const shownMs = performance.now() - begin
    await rest(300)
    const longTasksMs = [...longTasks]
    stage.end()
    return { indexMs: indexed - start, geometryMs: built - indexed, shownMs, longTasksMs }
  },

  /** Makes the stage and brings it to where the journey starts; `go` then runs the frames. */
  async go(name: StageName, journey: Journey, frames: number, onready?: string): Promise<FrameTimes> {
    const stage = openStage(name, container, geometry, marks)
    await nextFrame()
    const startK = journey.from === 'fit' ? stage.pxPerM() : journey.from
    while (Math.abs(Math.log(startK / stage.pxPerM())) > 1e-6) {
      stage.move(0, 0, Math.min(startK / stage.pxPerM(), 4))
      await nextFrame()
    }
    for (let frame = 0; frame < 8; frame++) {
      stage.move(frame % 2 === 0 ? 1 : -1, 0, 1)
      await nextFrame()
    }
    if (onready) await (window as unknown as Record<string, () => Promise<void>>)[onready]()
    longTasks.length = 0
    const intervalsMs: number[] = []
    const workMs: number[] = []
    let last = await nextFrame()
    for (let frame = 0; frame < frames; frame++) {
      const begin = performance.now()
      const { dx, dy, factor } = stepOf(journey, frame, frames, startK)
      stage.move(dx, dy, factor)
      workMs.push(performance.now() - begin)
      const now = await nextFrame()
      intervalsMs.push(now - last)
      last = now
    }
    if (onready) await (window as unknown as Record<string, () => Promise<void>>)[onready]()
    await rest(300)
    const longTasksMs = [...longTasks]
    stage.end()
    await nextFrame()
    return { intervalsMs, workMs, longTasksMs }
  },

  hits(): readonly HitTimes[] {
    return timeHits(geometry, marks, palettes.light, container)
  },
}

window.speed = speed
