import { mount, unmount } from 'svelte'
import { BaseLayer } from '../../../src/canvas/baseLayer.ts'
import type { MapGeometry } from '../../../src/canvas/geometry.ts'
import MapHost from '../../../src/canvas/MapHost.svelte'
import type { View } from '../../../src/canvas/mapTypes.ts'
import { palettes } from '../../../src/canvas/palette.ts'
import { noMarks, type MapMarks } from '../../../src/state/mapMarks.ts'
import { drawPlain } from './plainCanvas.ts'

/** Something that shows a site and follows a view, one step a frame. */
export interface Stage {
  readonly pxPerM: () => number
  readonly move: (dx: number, dy: number, factor: number) => void
  readonly end: () => void
}

export type StageName = 'empty' | 'plain' | 'base' | 'bare map' | 'everything'

const marginPx = 28

function fittedView({ boundsM }: MapGeometry, widthPx: number, heightPx: number): View {
  const { minX, minY, maxX, maxY } = boundsM
  const k = Math.min((widthPx - 2 * marginPx) / (maxX - minX), (heightPx - 2 * marginPx) / (maxY - minY))
  const [x, y] = [widthPx / 2 - (k * (minX + maxX)) / 2, heightPx / 2 + (k * (minY + maxY)) / 2]
  return { x, y, k, widthPx, heightPx, dpr: 1 }
}

export function openStage(
  name: StageName,
  container: HTMLElement,
  geometry: MapGeometry,
  marks: MapMarks,
): Stage {
  switch (name) {
    case 'empty':
    case 'plain':
    case 'base':
      return bareStage(name, container, geometry)
    case 'bare map':
      return mapStage(container, geometry, noMarks)
    case 'everything':
      return mapStage(container, geometry, marks)
  }
}

/** One canvas, drawn at once on every step. The empty one is touched in one pixel, so that it is put together anew. */
function bareStage(name: 'empty' | 'plain' | 'base', container: HTMLElement, geometry: MapGeometry): Stage {
  const canvas = document.createElement('canvas')
  canvas.className = 'bare'
  container.append(canvas)
  const { clientWidth, clientHeight } = container
  canvas.width = clientWidth
  canvas.height = clientHeight
  let view = fittedView(geometry, clientWidth, clientHeight)
  const base = name === 'base' ? new BaseLayer(canvas) : null
  const context = canvas.getContext('2d', { alpha: false })!
  let tick = 0
  let drawnK = view.k
  const draw = () => {
    if (base) {
      base.draw(geometry, view, { palette: palettes.light, marks: noMarks, isSwift: view.k !== drawnK })
      drawnK = view.k
    } else if (name === 'plain') drawPlain(context, geometry, view, palettes.light)
    else {
      context.fillStyle = tick++ % 2 === 0 ? '#fff' : '#eee'
      context.fillRect(0, 0, 1, 1)
    }
  }
  draw()
  return {
    pxPerM: () => view.k,
    move(dx, dy, factor) {
      const [px, py] = [clientWidth / 2, clientHeight / 2]
      const x = px + (view.x - px) * factor + dx
      const y = py + (view.y - py) * factor + dy
      view = { ...view, x, y, k: view.k * factor }
      draw()
    },
    end: () => canvas.remove(),
  }
}

/** The program's own map, moved by the events that a hand makes: a mouse held down, a wheel. */
function mapStage(container: HTMLElement, geometry: MapGeometry, marks: MapMarks): Stage {
  const props = { index: geometry.index, marks, themeName: 'light' as const, nameOf: () => 'here' }
  const map = mount(MapHost, { target: container, props })
  const host = container.querySelector<HTMLElement>('.map')!
  const hand = handOn(host)
  return {
    pxPerM: () => (host as unknown as { readonly __zoom: { readonly k: number } }).__zoom.k,
    move(dx, dy, factor) {
      if (factor !== 1) hand.turn(factor)
      if (dx !== 0 || dy !== 0) hand.drag(dx, dy)
    },
    end() {
      hand.letGo()
      void unmount(map)
    },
  }
}

interface Hand {
  turn(factor: number): void
  drag(dx: number, dy: number): void
  letGo(): void
}

/** A wheel turns the zoom by 2 to the power of −0.002 times its pixels; at most so many in one event. */
const wheelPerOctave = 500

export function handOn(host: HTMLElement): Hand {
  let at: { x: number; y: number } | null = null
  const { left, top, width, height } = host.getBoundingClientRect()
  const middle = { x: left + width / 2, y: top + height / 2 }
  const mouse = (target: EventTarget, type: string, { x, y }: { x: number; y: number }) =>
    target.dispatchEvent(
      new MouseEvent(type, {
        view: window,
        bubbles: true,
        cancelable: true,
        clientX: x,
        clientY: y,
        buttons: 1,
      }),
    )
  const letGo = () => {
    if (at) mouse(window, 'mouseup', at)
    at = null
  }
  return {
    letGo,
    turn(factor) {
      letGo()
      host.dispatchEvent(
        new WheelEvent('wheel', {
          bubbles: true,
          cancelable: true,
          clientX: middle.x,
          clientY: middle.y,
          deltaY: -Math.log2(factor) * wheelPerOctave,
        }),
      )
    },
    drag(dx, dy) {
      if (!at) {
        at = middle
        mouse(host, 'mousedown', at)
      }
      at = { x: at.x + dx, y: at.y + dy }
      mouse(window, 'mousemove', at)
    },
  }
}
