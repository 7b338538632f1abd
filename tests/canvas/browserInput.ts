import { cdp } from 'vitest/browser'

export interface PointPx {
  readonly x: number
  readonly y: number
}

interface BrowserSession {
  send(method: string, parameters: object): Promise<unknown>
}

function send(method: string, parameters: object): Promise<unknown> {
  return (cdp() as unknown as BrowserSession).send(method, parameters)
}

/** The test's page lies in a frame that may be drawn smaller than it is; input goes to the page around it. */
function outside({ x, y }: PointPx): PointPx {
  const box = window.frameElement?.getBoundingClientRect()
  if (!box) return { x, y }
  const scale = box.width / window.innerWidth
  return { x: box.left + scale * x, y: box.top + scale * y }
}

export function frames(count = 2): Promise<void> {
  return new Promise((done) => {
    const wait = (left: number) => (left === 0 ? done() : requestAnimationFrame(() => wait(left - 1)))
    wait(count)
  })
}

async function mouse(type: string, at: PointPx, buttons: number, modifiers: number, more: object = {}) {
  const { x, y } = outside(at)
  const button = type === 'mouseMoved' && buttons === 0 ? 'none' : 'left'
  await send('Input.dispatchMouseEvent', { type, x, y, button, buttons, modifiers, clickCount: 1, ...more })
}

export interface Held {
  readonly alt?: boolean
}

/** Presses, goes along the points, and waits with the button still down. */
export async function dragHolding(points: readonly PointPx[], { alt = false }: Held = {}): Promise<void> {
  const modifiers = alt ? 1 : 0
  await mouse('mouseMoved', points[0], 0, modifiers)
  await mouse('mousePressed', points[0], 1, modifiers)
  for (const point of points.slice(1)) await mouse('mouseMoved', point, 1, modifiers)
  await frames()
}

export async function letGo(at: PointPx): Promise<void> {
  await mouse('mouseReleased', at, 0, 0)
  await frames()
}

export async function drag(points: readonly PointPx[], held: Held = {}): Promise<void> {
  await dragHolding(points, held)
  await letGo(points.at(-1)!)
}

export async function click(at: PointPx): Promise<void> {
  await drag([at])
}

export async function pointAt(at: PointPx): Promise<void> {
  await mouse('mouseMoved', at, 0, 0)
  await frames(3)
}

export async function wheel(at: PointPx, deltaY: number): Promise<void> {
  await mouse('mouseWheel', at, 0, 0, { deltaX: 0, deltaY })
  await frames(4)
}

/** Where the fingers are; none: all lifted. */
export async function touch(
  type: 'touchStart' | 'touchMove' | 'touchEnd',
  points: readonly PointPx[],
): Promise<void> {
  await send('Input.dispatchTouchEvent', {
    type,
    touchPoints: points.map((point, id) => ({ ...outside(point), id })),
  })
  await frames()
}

export async function preferReducedMotion(isReduced: boolean): Promise<void> {
  await send('Emulation.setEmulatedMedia', {
    features: [{ name: 'prefers-reduced-motion', value: isReduced ? 'reduce' : '' }],
  })
}
