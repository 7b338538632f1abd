import type { Browser, Page } from 'playwright'
import { frameRun, watchRuns, type FrameRun } from './frameRuns.ts'
import { openMeasured } from './measurePage.ts'
import type { FrameTimes } from './page/page.ts'

export interface FieldRuns {
  readonly firstViewMs: readonly number[]
  readonly openingTasksMs: readonly number[]
  readonly movements: readonly { readonly name: string; readonly runs: readonly FrameRun[] }[]
}

type Movement = 'empty' | 'pan' | 'zoom'

interface Started {
  firstViewMs: number | null
  longTasksMs: number[]
}

/** Runs in the page before anything else: notes when the map has its first picture, and every long task. */
function watchStart(): void {
  const started: Started = { firstViewMs: null, longTasksMs: [] }
  Object.assign(window, { started })
  new PerformanceObserver((list) =>
    started.longTasksMs.push(...list.getEntries().map(({ duration }) => duration)),
  ).observe({ type: 'longtask', buffered: true })
  const look = () => {
    const canvas = document.querySelector<HTMLCanvasElement>('[role=application] canvas')
    if (canvas && canvas.width > 300) started.firstViewMs = performance.now()
    else requestAnimationFrame(look)
  }
  requestAnimationFrame(look)
}

/** Runs in the page: moves the map by the events of a mouse, or draws nothing over an empty canvas. */
async function moveMap([movement, frames]: readonly [Movement, number]): Promise<FrameTimes> {
  const host = document.querySelector<HTMLElement>('[role=application]')!
  const { started, markRun } = window as unknown as { started: Started; markRun: () => Promise<void> }
  const nextFrame = () => new Promise<number>((done) => requestAnimationFrame(done))
  const box = host.getBoundingClientRect()
  const middle = { x: box.left + box.width / 2, y: box.top + box.height / 2 }
  let at = middle
  const send = (target: EventTarget, type: string) =>
    target.dispatchEvent(
      new MouseEvent(type, {
        view: window,
        bubbles: true,
        cancelable: true,
        clientX: at.x,
        clientY: at.y,
        buttons: 1,
      }),
    )
  const wheel = (deltaY: number) =>
    host.dispatchEvent(
      new WheelEvent('wheel', {
        bubbles: true,
        cancelable: true,
        clientX: middle.x,
        clientY: middle.y,
        deltaY,
      }),
    )
  const canvas = document.createElement('canvas')
  if (movement === 'empty') {
    host.style.visibility = 'hidden'
    canvas.style.cssText = `position:fixed;left:${box.left}px;top:${box.top}px;width:${box.width}px;height:${box.height}px`
    canvas.width = box.width
    canvas.height = box.height
    document.body.append(canvas)
  }
  const context = canvas.getContext('2d', { alpha: false })!
  if (movement === 'pan') send(host, 'mousedown')
  const step = (frame: number) => {
    if (movement === 'empty') {
      context.fillStyle = frame % 2 === 0 ? '#fff' : '#eee'
      context.fillRect(0, 0, 1, 1)
    } else if (movement === 'zoom') wheel(frame < frames / 2 ? -20 : 20)
    else {
      const sign = frame < frames / 2 ? 1 : -1
      at = { x: at.x - 4 * sign, y: at.y + 2 * sign }
      send(window, 'mousemove')
    }
  }
  for (let frame = 0; frame < 8; frame++) {
    step(frame)
    await nextFrame()
  }
  await markRun()
  started.longTasksMs = []
  const intervalsMs: number[] = []
  let last = await nextFrame()
  for (let frame = 0; frame < frames; frame++) {
    step(frame)
    const now = await nextFrame()
    intervalsMs.push(now - last)
    last = now
  }
  await markRun()
  if (movement === 'pan') send(window, 'mouseup')
  await new Promise((done) => setTimeout(done, 400))
  const longTasksMs = [...started.longTasksMs]
  canvas.remove()
  host.style.visibility = ''
  return { intervalsMs, workMs: [], longTasksMs }
}

async function startOf(page: Page): Promise<Started> {
  return page.evaluate(() => (window as unknown as { started: Started }).started)
}

/** The program as it is built, with the demo field: its first view, then frames beside an empty canvas. */
export async function measureField(
  browser: Browser,
  folder: string,
  runs: number,
  frames: number,
): Promise<FieldRuns> {
  const firstViewMs: number[] = []
  const openingTasksMs: number[] = []
  const found = { empty: [] as FrameRun[], pan: [] as FrameRun[], zoom: [] as FrameRun[] }
  for (let run = 0; run < runs; run++) {
    const measured = await openMeasured(browser, folder)
    const taskMs = await watchRuns(measured)
    const { page } = measured
    await page.addInitScript(watchStart)
    await page.goto(measured.address)
    await page.waitForFunction(() => (window as unknown as { started: Started }).started.firstViewMs !== null)
    await page.waitForTimeout(4000)
    const started = await startOf(page)
    firstViewMs.push(started.firstViewMs!)
    openingTasksMs.push(...started.longTasksMs)
    for (const movement of ['empty', 'pan', 'zoom'] as const) {
      const times = await page.evaluate(moveMap, [movement, frames] as const)
      const warm = taskMs()
      if (Number.isNaN(warm)) continue
      found[movement].push(frameRun(times, warm))
    }
    await measured.end()
  }
  return {
    firstViewMs,
    openingTasksMs,
    movements: [
      { name: 'an empty canvas in its place', runs: found.empty },
      { name: 'pan', runs: found.pan },
      { name: 'zoom in and out', runs: found.zoom },
    ],
  }
}
