import { flushSync } from 'svelte'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import fieldText from '../../demo-data/field.json?raw'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { fitMargins } from '../../src/canvas/mapRoom.ts'
import { rowNames } from '../../src/canvas/placeNames.ts'
import MapHost from '../../src/canvas/MapHost.svelte'
import { jointPointM } from '../../src/canvas/markPoints.ts'
import { edgePoint } from '../../src/canvas/overlaySuspects.ts'
import type { ThemeName } from '../../src/canvas/palette.ts'
import { openSite } from '../../src/files/openSite.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { indexSite, type SiteIndex } from '../../src/layout/siteIndex.ts'
import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import { noMarks, partOf, type MapMarks, type ReadingMark } from '../../src/state/mapMarks.ts'
import type { Picked } from '../../src/state/picked.ts'
import { namePart } from '../../src/text/partNames.ts'
import { openNameBook } from '../../src/text/places.ts'
import { largeIndex } from '../bench/canvas/largeSite.ts'
import {
  click,
  drag,
  dragHolding,
  frames,
  letGo,
  pointAt,
  preferReducedMotion,
  touch,
  wheel,
  type PointPx,
} from './browserInput.ts'

const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
if (!opened.ok) throw new Error('the field demo does not open')
const indexed = indexSite(opened.value.drawing)
if (!indexed.ok) throw new Error('the field demo cannot be numbered')
const index = indexed.value
const book = openNameBook(index.drawing)

interface Props {
  readonly index: SiteIndex
  readonly marks: MapMarks
  readonly themeName: ThemeName
  readonly linking?: boolean
  readonly nameOf: (what: Picked) => string
  readonly onpick: (what: Picked | null) => void
  readonly onhover: (what: Picked | null) => void
  readonly onlink: (from: string, to: string) => void
  readonly onlinkstart: (from: string) => void
  readonly onlinkcancel: () => void
}
interface Heard {
  readonly picked: (Picked | null)[]
  readonly hovered: (Picked | null)[]
  readonly links: string[]
  readonly starts: string[]
  readonly cancels: string[]
}

async function show(more: Partial<Props> = {}) {
  const heard: Heard = { picked: [], hovered: [], links: [], starts: [], cancels: [] }
  const props: Props = {
    index,
    marks: noMarks,
    themeName: 'light',
    nameOf: (what) => (what.kind === 'part' ? namePart(book, what.address) : what.kind),
    onpick: (what) => void heard.picked.push(what),
    onhover: (what) => void heard.hovered.push(what),
    onlink: (from, to) => void heard.links.push(`${from} to ${to}`),
    onlinkstart: (from) => void heard.starts.push(from),
    onlinkcancel: () => void heard.cancels.push('cancelled'),
    ...more,
  }
  const { container, rerender, component } = await render(MapHost, { ...props })
  container.style.cssText = 'position: fixed; inset: 0 auto auto 0; width: 1000px; height: 640px'
  await frames(4)
  const map = container.querySelector<HTMLElement>('[role=application]')!
  const place = container.querySelector<HTMLElement>('button')!
  let now = props
  const set = async (next: Partial<Props>) => {
    now = { ...now, ...next }
    await rerender(now)
    flushSync()
    await frames()
  }
  const pickOutside = async (address: string) => {
    await set({ marks: { ...now.marks, picked: { kind: 'part', address } } })
  }
  /**
   * How metres become pixels now, told by the button that stands over a part chosen elsewhere: from two parts
   * far apart follow scale and origin.
   */
  const view = async () => {
    const centreOf = async (address: string) => {
      await pickOutside(address)
      const { left, top, width, height } = place.getBoundingClientRect()
      return { x: left + width / 2, y: top + height / 2 }
    }
    const a = await centreOf('R1/T1/F1.1')
    const b = await centreOf('R6/T8/F2.10')
    const [aM, bM] = [positionM('R1/T1/F1.1'), positionM('R6/T8/F2.10')]
    const k = (b.x - a.x) / (bM.x - aM.x)
    expect((a.y - b.y) / (bM.y - aM.y)).toBeCloseTo(k, 1)
    const x = a.x - k * aM.x
    const y = a.y + k * aM.y
    return { k, x, y, screenOf: (at: PointPx) => ({ x: x + k * at.x, y: y - k * at.y }) }
  }
  const host = component as unknown as { fit(): void; zoomBy(f: number): void; focus(p: Picked): boolean }
  return { ...heard, map, place, set, view, host, pickOutside }
}

function positionM(address: string): PointPx {
  return partPositionM(index, partIndexOf(index, parsePartAddress(address)!))!
}

/** A place of a module's face that no member, post or joint covers. */
function faceOf(address: string): PointPx {
  const { x, y } = positionM(address)
  return { x, y: y + 0.03 }
}

beforeEach(() => preferReducedMotion(true))
afterEach(() => preferReducedMotion(false))

const middle = { x: 500, y: 320 }
const frame = 'R3/T4/F1.5'
const other = 'R3/T5/F2.3'

describe('the view', () => {
  it('shows the whole site at first, and again when the room changes', async () => {
    const { view, map } = await show()
    const { screenOf } = await view()
    for (const address of ['R1/T1/F1.1', 'R6/T8/F2.10']) {
      const { x, y } = screenOf(positionM(address))
      expect(x > 0 && x < 1000 && y > 0 && y < 640).toBe(true)
    }
    map.parentElement!.style.width = '420px'
    await frames(4)
    const narrow = await view()
    expect(narrow.screenOf(positionM('R6/T8/F2.10')).x).toBeLessThan(420)
  })

  it('is dragged by the mouse, exactly as far', async () => {
    const shown = await show()
    const before = await shown.view()
    await drag([middle, { x: 540, y: 330 }, { x: 620, y: 350 }])
    const after = await shown.view()
    expect(after.x - before.x).toBeCloseTo(120, 0)
    expect(after.y - before.y).toBeCloseTo(30, 0)
    expect(after.k).toBeCloseTo(before.k, 3)
    expect(shown.picked).toEqual([])
  })

  it('grows under the wheel about the pointer', async () => {
    const shown = await show()
    const before = await shown.view()
    const at = before.screenOf(positionM(frame))
    await wheel(at, -400)
    const after = await shown.view()
    expect(after.k).toBeGreaterThan(1.2 * before.k)
    const there = after.screenOf(positionM(frame))
    expect(Math.hypot(there.x - at.x, there.y - at.y)).toBeLessThan(1)
  })

  it('cannot lose the site', async () => {
    const shown = await show()
    for (let i = 0; i < 4; i++)
      await drag([
        { x: 50, y: 50 },
        { x: 900, y: 600 },
      ])
    const { screenOf } = await shown.view()
    expect(screenOf(positionM('R1/T1/F1.1')).x).toBeLessThan(1000)
    expect(screenOf(positionM('R6/T8/F2.10')).y).toBeLessThan(640)
  })

  it('goes to what it is told to, and back', async () => {
    const shown = await show()
    const before = await shown.view()
    expect(shown.host.focus({ kind: 'part', address: frame })).toBe(true)
    await frames()
    const near = await shown.view()
    const { x, y } = near.screenOf(positionM(frame))
    expect([x, y]).toEqual([expect.closeTo(500, 0), expect.closeTo(320, 0)])
    expect(near.k).toBeGreaterThan(3 * before.k)
    shown.host.fit()
    await frames()
    expect((await shown.view()).k).toBeCloseTo(before.k, 3)
    expect(shown.host.focus({ kind: 'part', address: 'R77/T1/F1.1' })).toBe(false)
  })

  it('is drawn in all device pixels', async () => {
    const { map } = await show()
    // the canvas of a fault’s current has no size before anything flows
    const [base, overlay] = map.querySelectorAll<HTMLCanvasElement>('canvas:not(.flow)')
    const dpr = window.devicePixelRatio
    expect([base.width, base.height]).toEqual([1000 * dpr, 640 * dpr])
    expect([overlay.width, overlay.height]).toEqual([1000 * dpr, 640 * dpr])
  })
})

async function near(more: Partial<Props> = {}) {
  const shown = await show(more)
  shown.host.focus({ kind: 'table', row: 3, table: 4 })
  await frames(10)
  const { k, screenOf } = await shown.view()
  await shown.set({ marks: more.marks ?? noMarks })
  return { ...shown, k, screenOf }
}

describe('a tap', () => {
  it('chooses the module there, then its joint, then its table', async () => {
    const shown = await near()
    const at = shown.screenOf(faceOf(frame))
    await click(at)
    expect(shown.picked).toEqual([{ kind: 'part', address: frame }])
    await new Promise((done) => setTimeout(done, 400))
    await click(at)
    expect(shown.picked[1]).toMatchObject({ kind: 'joint' })
    await new Promise((done) => setTimeout(done, 400))
    await click(at)
    expect(shown.picked[2]).toEqual({ kind: 'table', row: 3, table: 4 })
  })

  it('twice in a moment goes to the table and chooses once', async () => {
    const shown = await show()
    const { k, screenOf } = await shown.view()
    const at = screenOf(faceOf(frame))
    await click(at)
    await click(at)
    await frames()
    expect(shown.picked).toHaveLength(1)
    const after = await shown.view()
    expect(after.k).toBeGreaterThan(3 * k)
    const { x } = after.screenOf(positionM('R3/T4/F1.5'))
    expect(Math.abs(x - 500)).toBeLessThan(150)
  })

  it('on open ground chooses nothing', async () => {
    const shown = await show()
    await click({ x: 990, y: 8 })
    expect(shown.picked).toEqual([null])
  })

  it('chooses a suspect by its ring, and follows a pointer to one out of sight', async () => {
    const joint = jointIndexOf(index, parseJointAddress('R4/T6+T7~1')!)
    const suspects: MapMarks['suspects'] = [{ joint, probability: 0.9, rank: 1, isPicked: false }]
    const shown = await near({ marks: { ...noMarks, suspects } })
    const out = shown.screenOf(jointPointM(buildGeometry(index), joint))
    expect(out.x).toBeGreaterThan(1000)
    await click(edgePoint(out, { left: 30, top: 30, right: 970, bottom: 610 }))
    expect(shown.picked.at(-1)).toEqual({ kind: 'suspect', joint: 'R4/T6+T7~1' })
    await frames(4)
    await new Promise((done) => setTimeout(done, 400))
    await click(middle)
    expect(shown.picked).toHaveLength(2)
    expect(shown.picked[1]).toEqual({ kind: 'suspect', joint: 'R4/T6+T7~1' })
  })
})

it('the pointer tells what it is over, and that it has left', async () => {
  const shown = await near()
  await pointAt(shown.screenOf(faceOf(frame)))
  await new Promise((done) => setTimeout(done, 200))
  await pointAt(shown.screenOf(faceOf(other)))
  expect(shown.hovered.at(-1)).toEqual({ kind: 'part', address: other })
  await pointAt({ x: 1200, y: 700 })
  expect(shown.hovered.at(-1)).toBeNull()
})

describe('a pair', () => {
  it('is made by a drag from part to part, and the view stays', async () => {
    const shown = await near({ linking: true })
    const from = shown.screenOf(faceOf(frame))
    const to = shown.screenOf(faceOf('R3/T4/F2.8'))
    await drag([from, { x: (from.x + to.x) / 2, y: 300 }, to])
    expect(shown.links).toEqual([`${frame} to R3/T4/F2.8`])
    expect(shown.screenOf(positionM(frame))).toEqual((await shown.view()).screenOf(positionM(frame)))
    expect(shown.picked).toEqual([])
  })

  it('is made by a drag with Alt held, without the link tool', async () => {
    const shown = await near()
    await drag([shown.screenOf(faceOf(frame)), shown.screenOf(faceOf('R3/T4/F2.8'))], { alt: true })
    expect(shown.links).toEqual([`${frame} to R3/T4/F2.8`])
  })

  it('is made by two taps', async () => {
    const shown = await near({ linking: true })
    await click(shown.screenOf(faceOf(frame)))
    expect(shown.starts).toEqual([frame])
    await shown.set({ marks: { ...noMarks, pairFrom: partOf(index, frame) } })
    await click(shown.screenOf(faceOf('R3/T4/F2.8')))
    expect(shown.links).toEqual([`${frame} to R3/T4/F2.8`])
  })

  it('is given up by Escape, wherever the keyboard is, and by letting go outside', async () => {
    const shown = await near({ linking: true })
    const from = shown.screenOf(faceOf(frame))
    const to = shown.screenOf(faceOf('R3/T4/F2.8'))
    await dragHolding([from, to])
    await userEvent.keyboard('{Escape}')
    await letGo(to)
    await drag([from, to, { x: 1150, y: 300 }])
    expect(shown.links).toEqual([])
    expect(shown.starts).toEqual([])
  })

  it('from open ground is a drag of the view', async () => {
    const shown = await show({ linking: true })
    const before = await shown.view()
    await drag([
      { x: 500, y: 30 },
      { x: 500, y: 60 },
      { x: 500, y: 90 },
    ])
    expect((await shown.view()).y - before.y).toBeCloseTo(60, 0)
  })
})

describe('fingers', () => {
  it('move the map, and two of them about the place between', async () => {
    const shown = await show()
    const before = await shown.view()
    await touch('touchStart', [{ x: 400, y: 300 }])
    await touch('touchMove', [{ x: 430, y: 310 }])
    await touch('touchMove', [{ x: 460, y: 320 }])
    await touch('touchEnd', [])
    const moved = await shown.view()
    expect(moved.x - before.x).toBeCloseTo(60, 0)
    await touch('touchStart', [{ x: 400, y: 300 }])
    await touch('touchStart', [
      { x: 400, y: 300 },
      { x: 600, y: 300 },
    ])
    await touch('touchMove', [
      { x: 350, y: 300 },
      { x: 650, y: 300 },
    ])
    await touch('touchMove', [
      { x: 300, y: 300 },
      { x: 700, y: 300 },
    ])
    await touch('touchEnd', [])
    const pinched = await shown.view()
    expect(pinched.k / moved.k).toBeCloseTo(2, 1)
    const held = { x: (500 - moved.x) / moved.k, y: (moved.y - 300) / moved.k }
    const there = pinched.screenOf(held)
    expect(Math.hypot(there.x - 500, there.y - 300)).toBeLessThan(2)
    expect(shown.picked).toEqual([])
  })

  it('choose by a tap, and link by a long press and a drag', async () => {
    const shown = await near()
    const from = shown.screenOf(faceOf(frame))
    const to = shown.screenOf(faceOf('R3/T4/F2.8'))
    await touch('touchStart', [from])
    await touch('touchEnd', [])
    expect(shown.picked).toEqual([{ kind: 'part', address: frame }])
    await touch('touchStart', [from])
    await new Promise((done) => setTimeout(done, 600))
    await touch('touchMove', [{ x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }])
    await touch('touchMove', [to])
    await touch('touchEnd', [])
    expect(shown.links).toEqual([`${frame} to R3/T4/F2.8`])
    const after = await shown.view()
    expect(after.screenOf(positionM(frame)).x).toBeCloseTo(shown.screenOf(positionM(frame)).x, 1)
  })

  it('a second one gives a link up and zooms', async () => {
    const shown = await near({ linking: true })
    const from = shown.screenOf(faceOf(frame))
    const second = { x: from.x + 200, y: from.y }
    await touch('touchStart', [from])
    await touch('touchMove', [{ x: from.x + 40, y: from.y }])
    await touch('touchStart', [{ x: from.x + 40, y: from.y }, second])
    await touch('touchMove', [from, { x: from.x + 320, y: from.y }])
    await touch('touchEnd', [])
    expect(shown.links).toEqual([])
    expect(shown.starts).toEqual([])
    expect((await shown.view()).k / shown.k).toBeCloseTo(2, 1)
  })
})

describe('the keyboard', () => {
  it('moves from part to part, and the name of each is spoken', async () => {
    const shown = await near()
    await shown.pickOutside(frame)
    shown.place.focus()
    await userEvent.keyboard('{ArrowRight}')
    await frames()
    expect(shown.place.getAttribute('aria-label')).toBe('frame 1.6, table 3-04, Row 3')
    expect(shown.map.querySelector('[aria-live]')?.textContent).toBe('frame 1.6, table 3-04, Row 3')
    const { left, width } = shown.place.getBoundingClientRect()
    expect(left + width / 2).toBeCloseTo(shown.screenOf(positionM('R3/T4/F1.6')).x, 0)
    await userEvent.keyboard('{ArrowUp}{Enter}')
    expect(shown.picked).toEqual([{ kind: 'part', address: 'R3/T4/F2.6' }])
  })

  it('keeps what it stands on in view', async () => {
    const shown = await near()
    await shown.pickOutside(frame)
    shown.place.focus()
    for (let i = 0; i < 14; i++) await userEvent.keyboard('{ArrowRight}')
    await frames()
    const { left, right } = shown.place.getBoundingClientRect()
    expect(left).toBeGreaterThan(0)
    expect(right).toBeLessThan(1000)
    expect(shown.place.getAttribute('aria-label')).toBe('frame 1.9, table 3-05, Row 3')
  })

  it('makes a pair, and Escape gives it up before it lets the choice go', async () => {
    const shown = await near()
    await shown.pickOutside(frame)
    shown.place.focus()
    await userEvent.keyboard('l')
    expect(shown.starts).toEqual([frame])
    await shown.set({ marks: { ...noMarks, pairFrom: partOf(index, frame) } })
    await userEvent.keyboard('{ArrowRight}l')
    expect(shown.links).toEqual([`${frame} to R3/T4/F1.6`])
    await userEvent.keyboard('{Escape}')
    expect(shown.cancels).toHaveLength(1)
    expect(shown.picked).toEqual([])
    await shown.set({ marks: noMarks })
    await userEvent.keyboard('{Escape}')
    expect(shown.picked).toEqual([null])
  })

  it('goes through the suspects, first ranks first', async () => {
    const suspects: MapMarks['suspects'] = ['R4/T6+T7~1', 'R2/T3+T4~1'].map((joint, i) => ({
      joint: jointIndexOf(index, parseJointAddress(joint)!),
      probability: 0.5 - 0.2 * i,
      rank: i + 1,
      isPicked: false,
    }))
    const shown = await show({ marks: { ...noMarks, suspects } })
    shown.place.focus()
    await userEvent.keyboard('{PageDown}')
    const first: Picked = { kind: 'suspect', joint: 'R4/T6+T7~1' }
    expect(shown.picked).toEqual([first])
    await shown.set({ marks: { ...noMarks, suspects, picked: first } })
    await userEvent.keyboard('{PageDown}')
    expect(shown.picked[1]).toEqual({ kind: 'suspect', joint: 'R2/T3+T4~1' })
  })

  it('zooms, moves and fits the view', async () => {
    const shown = await show()
    const before = await shown.view()
    shown.place.focus()
    await userEvent.keyboard('+')
    await frames()
    expect((await shown.view()).k).toBeCloseTo(1.5 * before.k, 1)
    await userEvent.keyboard('0')
    await frames()
    expect((await shown.view()).k).toBeCloseTo(before.k, 3)
    await userEvent.keyboard('{Shift>}{ArrowRight}{/Shift}')
    await frames()
    expect((await shown.view()).x - before.x).toBeCloseTo(-80, 0)
  })

  it('finds one place to stop at, with its help', async () => {
    const { map, place } = await show()
    expect(map.getAttribute('aria-label')).toBe('Map of the array')
    const help = document.getElementById(map.getAttribute('aria-describedby')!)
    expect(help?.textContent).toMatch(/Arrow keys move/)
    expect([...map.querySelectorAll('canvas')].every((canvas) => canvas.closest('[aria-hidden=true]'))).toBe(
      true,
    )
    const stops = [...map.querySelectorAll<HTMLElement>('*')].filter(({ tabIndex }) => tabIndex >= 0)
    expect(stops).toEqual([place])
  })
})

describe('where only tables are drawn', () => {
  const large = largeIndex({ rows: 100, tables: 25, bearingDeg: 90 })
  const atM = partPositionM(large, partIndexOf(large, parsePartAddress('R47/T9/F1.5')!))!

  /** Where a place of the large site lies while all of it is seen, in the room that the fit leaves to it. */
  function onScreen(): PointPx {
    const geometry = buildGeometry(large)
    const { minX, minY, maxX, maxY } = geometry.boundsM
    const { left, right, top, bottom } = fitMargins(rowNames(geometry))
    const k = Math.min((1000 - left - right) / (maxX - minX), (640 - top - bottom) / (maxY - minY))
    const [x, y] = [(left + 1000 - right) / 2, (top + 640 - bottom) / 2]
    return { x: x + k * (atM.x - (minX + maxX) / 2), y: y - k * (atM.y - (minY + maxY) / 2) }
  }

  it('a tap chooses the table', async () => {
    const { picked } = await show({ index: large, nameOf: () => 'part' })
    await click(onScreen())
    expect(picked).toEqual([{ kind: 'table', row: 47, table: 9 }])
  })

  it('a tap for a pair goes to the table, and the next one begins the pair at a part of it', async () => {
    const { picked, starts } = await show({ index: large, linking: true, nameOf: () => 'part' })
    await click(onScreen())
    await frames(6)
    expect([picked, starts]).toEqual([[], []])
    await click({ x: 500 - 40, y: 320 + 30 })
    expect(starts).toHaveLength(1)
    expect(starts[0]).toMatch(/^R47\/T9\//)
  })
})

it('says so where readings that lie together are drawn as one line', async () => {
  const pair = (entry: string, from: string, to: string): ReadingMark => ({
    entry,
    from: partOf(index, from)!,
    to: partOf(index, to)!,
    look: 'within',
    label: '10 mΩ',
    isPicked: false,
  })
  const readings = [pair('a', 'R1/T1/F1.1', 'R1/T6/F1.1'), pair('b', 'R1/T6/F1.1', 'R1/T1/F1.1')]
  const { map, set } = await show({ marks: { ...noMarks, readings } })
  expect(map.textContent).toContain('2 readings in line or set aside, drawn as 1 line')
  await set({ marks: { ...noMarks, readings: readings.slice(1) } })
  await frames(2)
  expect(map.textContent).not.toContain('drawn as')
})
