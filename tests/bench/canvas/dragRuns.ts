import type { Browser, Page } from 'playwright'
import { frameRun, watchRuns, type FrameRun } from './frameRuns.ts'
import { openMeasured } from './measurePage.ts'
import type { FrameTimes } from './page/page.ts'

/** Dragging a row of 100 tables of the tracker demo in the built program. */
export interface DragRuns {
  readonly drags: readonly FrameRun[]
  /** From letting go to the next picture. */
  readonly dropMs: readonly number[]
  /** Tasks over 50 ms in the two seconds after letting go. */
  readonly dropTasksMs: readonly number[]
}

interface Dropped {
  readonly dropMs: number
  readonly dropTasksMs: readonly number[]
}

/** Runs in the page: drags what is chosen about by pointer events, a step a frame, then lets go. */
async function dragChosen([x, y, frames]: readonly [number, number, number]): Promise<FrameTimes & Dropped> {
  const host = document.querySelector<HTMLElement>('[role=application]')!
  const { markRun } = window as unknown as { markRun: () => Promise<void> }
  const nextFrame = () => new Promise<number>((done) => requestAnimationFrame(done))
  const send = (type: string, dx: number, dy: number) =>
    host.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        cancelable: true,
        pointerId: 1,
        pointerType: 'mouse',
        isPrimary: true,
        button: type === 'pointermove' ? -1 : 0,
        buttons: type === 'pointerup' ? 0 : 1,
        clientX: x + dx,
        clientY: y + dy,
      }),
    )
  const longTasksMs: number[] = []
  const observer = new PerformanceObserver((list) =>
    longTasksMs.push(...list.getEntries().map(({ duration }) => duration)),
  )
  observer.observe({ type: 'longtask' })
  send('pointerdown', 0, 0)
  for (let frame = 0; frame < 8; frame++) {
    send('pointermove', frame, 8)
    await nextFrame()
  }
  await markRun()
  longTasksMs.length = 0
  const intervalsMs: number[] = []
  let last = await nextFrame()
  for (let frame = 0; frame < frames; frame++) {
    send('pointermove', 40 * Math.sin(frame / 9), 8 + 20 * Math.cos(frame / 7))
    const now = await nextFrame()
    intervalsMs.push(now - last)
    last = now
  }
  await markRun()
  const dragTasksMs = [...longTasksMs]
  longTasksMs.length = 0
  const begin = performance.now()
  send('pointerup', 30, 20)
  await nextFrame()
  await nextFrame()
  const dropMs = performance.now() - begin
  await new Promise((done) => setTimeout(done, 2000))
  observer.disconnect()
  return { intervalsMs, workMs: [], longTasksMs: dragTasksMs, dropMs, dropTasksMs: [...longTasksMs] }
}

async function chooseRow(page: Page): Promise<{ readonly x: number; readonly y: number }> {
  const map = page.getByRole('application')
  await page.getByRole('tab', { name: 'Draw' }).click()
  const box = (await map.boundingBox())!
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  for (let tries = 0; tries < 12; tries++) {
    const y = at.y + 3 * tries
    await page.mouse.click(at.x, y)
    await page.waitForTimeout(300)
    if ((await page.getByRole('region', { name: 'What is chosen' }).count()) > 0) return { ...at, y }
  }
  throw new Error('no row of the tracker was met')
}

/** The built program with the tracker demo: a row is chosen and dragged, and dropped at the end. */
export async function measureDrag(
  browser: Browser,
  folder: string,
  runs: number,
  frames: number,
): Promise<DragRuns> {
  const drags: FrameRun[] = []
  const dropMs: number[] = []
  const dropTasksMs: number[] = []
  for (let run = 0; run < runs; run++) {
    const measured = await openMeasured(browser, folder)
    const taskMs = await watchRuns(measured)
    const { page } = measured
    await page.goto(measured.address)
    await page.getByRole('button', { name: 'Skip' }).click()
    await page.getByRole('button', { name: /^Open the list of sites/ }).click()
    await page
      .getByRole('button', { name: /Ostermoor Plain/ })
      .first()
      .click()
    await page.getByRole('tab', { name: 'Draw' }).waitFor()
    await page.waitForTimeout(20_000)
    const { x, y } = await chooseRow(page)
    const times = await page.evaluate(dragChosen, [x, y, frames] as const)
    drags.push(frameRun(times, taskMs()))
    dropMs.push(times.dropMs)
    dropTasksMs.push(...times.dropTasksMs)
    await measured.end()
  }
  return { drags, dropMs, dropTasksMs }
}
