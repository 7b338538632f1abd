import { expect } from 'vitest'
import { itemAnchorsM } from '../../../src/layout/itemAnchors.ts'
import { boxOfItems, isInside, itemsInBox } from '../../../src/layout/itemBox.ts'
import { itemOutlineM } from '../../../src/layout/itemOutline.ts'
import { partAddressAt } from '../../../src/layout/partIndex.ts'
import { distanceM } from '../../../src/layout/path.ts'
import { partPositionM } from '../../../src/layout/positions.ts'
import type { SiteIndex } from '../../../src/layout/siteIndex.ts'
import { writePartAddress } from '../../../src/model/address.ts'
import type { BoxM } from '../../../src/model/boxM.ts'
import { centreOfBox } from '../../../src/model/boxM.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { allDrawn } from '../../../src/model/drawnItem.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import type { PointM } from '../../../src/model/schema/primitives.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import type {
  DrawContext,
  DrawDone,
  DrawEvent,
  DrawPoint,
  DrawPreview,
  DrawTool,
  Making,
} from '../../../src/tools/draw/drawTool.ts'
import { indexOf } from '../../layout/smallDrawings.ts'
import { deepFreeze } from '../../model/deepFreeze.ts'

const indices = new WeakMap<Drawing, SiteIndex>()

/** The index of a drawing, made once. */
function indexOnce(drawing: Drawing): SiteIndex {
  const index = indices.get(drawing) ?? indexOf(drawing)
  indices.set(drawing, index)
  return index
}

export const plainMaking: Making = {
  tableType: 'plain',
  gapM: 0.3,
  links: { count: 1, kind: 'jumper' },
  tables: null,
  equipment: 'enclosure',
  enclosure: { widthM: 1, depthM: 0.5, bearingDeg: 0 },
  electrode: 'rod',
  rod: { lengthM: 2.4, diameterM: 0.016 },
  plate: { areaM2: 0.5, depthM: 1 },
  strip: { diameterM: 0.01, depthM: 0.6 },
  conductor: {
    material: 'copper',
    areaMm2: 16,
    size: 'mm2-16',
    closed: false,
    lugKind: 'crimpLug',
    electrodeKind: 'rodClamp',
  },
  ground: 'aisle',
  extraJointKind: 'jumper',
  block: { pitchM: null, copies: null },
}

export function contextOf(
  site: Site,
  chosen: readonly DrawnItem[] = [],
  change: Partial<DrawContext> = {},
): DrawContext {
  const index = indexOnce(site.drawing)
  const box = boxOfItems(index, chosen)
  return {
    drawing: deepFreeze(site.drawing),
    chosen: deepFreeze(chosen),
    gridM: 0,
    making: deepFreeze(plainMaking),
    isBoxing: false,
    boxTouches: false,
    centreM: box && centreOfBox(box),
    anchorsNear: (atM, withinM, except = []) =>
      allDrawn(site.drawing)
        .filter(({ sort, id }) => !except.some((other) => other.sort === sort && other.id === id))
        .flatMap((item) => itemAnchorsM(index, item))
        .filter((anchor) => distanceM(anchor, atM) <= withinM),
    outlineOf: (item) => itemOutlineM(index, item),
    itemsIn: (box, isWhole) => itemsInBox(index, boxOf(box), isWhole),
    ...change,
  }
}

function boxOf([a, b]: readonly [PointM, PointM]): BoxM {
  return {
    minX: Math.min(a.x, b.x),
    minY: Math.min(a.y, b.y),
    maxX: Math.max(a.x, b.x),
    maxY: Math.max(a.y, b.y),
  }
}

type Held = Partial<Pick<DrawPoint, 'isAdding' | 'isFree' | 'handle' | 'reachM' | 'item' | 'part'>>

/** What the map would say lies at a place: the part marked nearest within reach, the topmost thing around or near. */
export function pointAt(index: SiteIndex, x: number, y: number, held: Held = {}): DrawPoint {
  const atM = { x, y }
  const { reachM = 0.1 } = held
  let part: DrawPoint['part'] = null
  let bestM = reachM
  for (let p = 0; p < index.partCount; p++) {
    const markedM = partPositionM(index, p)!
    const offM = distanceM(markedM, atM)
    if (offM > bestM || (offM === bestM && part)) continue
    part = { address: writePartAddress(partAddressAt(index, p)), atM: markedM }
    bestM = offM
  }
  const isOn = (item: DrawnItem) => {
    const { pointsM, isArea, isClosed } = itemOutlineM(index, item)!
    return (
      (isArea && isInside(atM, pointsM)) ||
      nearLine(atM, isClosed ? [...pointsM, pointsM[0]] : pointsM) <= reachM
    )
  }
  const item = allDrawn(index.drawing).findLast(isOn) ?? null
  return deepFreeze({ atM, reachM, item, part, isAdding: false, isFree: false, handle: null, ...held })
}

function nearLine(at: PointM, line: readonly PointM[]): number {
  let bestM = Infinity
  for (let k = 1; k < line.length; k++) {
    const [a, b] = [line[k - 1], line[k]]
    const by = { x: b.x - a.x, y: b.y - a.y }
    const share = ((at.x - a.x) * by.x + (at.y - a.y) * by.y) / (by.x * by.x + by.y * by.y || 1)
    const t = Math.min(Math.max(share, 0), 1)
    bestM = Math.min(bestM, Math.hypot(a.x + t * by.x - at.x, a.y + t * by.y - at.y))
  }
  return bestM
}

type At = readonly [x: number, y: number]

/** A tool in use: what the map sends it, and what its edits make of a site. Everything it is given is frozen. */
export class Hand<S> {
  site: Site
  chosen: readonly DrawnItem[] = []
  state: S
  preview: DrawPreview | null = null
  /** All that the tool has done so far. */
  readonly done: DrawDone[] = []
  change: Partial<DrawContext> = {}
  readonly #tool: DrawTool<S>

  constructor(tool: DrawTool<S>, site: Site, change: Partial<DrawContext> = {}) {
    this.#tool = tool
    this.site = deepFreeze(site)
    this.change = change
    this.state = deepFreeze(tool.idle)
  }

  get context(): DrawContext {
    return contextOf(this.site, this.chosen, this.change)
  }

  point([x, y]: At, held: Held = {}): DrawPoint {
    return pointAt(indexOnce(this.site.drawing), x, y, held)
  }

  making(change: Partial<Making>): this {
    this.change = { ...this.change, making: { ...(this.change.making ?? plainMaking), ...change } }
    return this
  }

  choose(...chosen: readonly DrawnItem[]): this {
    this.chosen = chosen
    return this
  }

  owns(at: At, held: Held = {}): boolean {
    return this.#tool.owns(this.state, this.point(at, held), this.context)
  }

  hover(at: At, held: Held = {}): this {
    return this.send({ kind: 'hover', at: this.point(at, held) })
  }

  /** Taps as a mouse makes them, each after a hover. */
  click(at: At, held: Held = {}): this {
    return this.hover(at, held).tap(at, held)
  }

  /** A tap as a finger makes it: nothing before it. */
  tap(at: At, held: Held = {}): this {
    return this.send({ kind: 'tap', at: this.point(at, held) })
  }

  drag(from: At, to: At, held: Held = {}, heldAtEnd: Held = held): this {
    const middle: At = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
    return this.pull(from, middle, held, heldAtEnd)
      .pull(from, to, held, heldAtEnd)
      .drop(from, to, held, heldAtEnd)
  }

  pull(from: At, to: At, held: Held = {}, heldAtEnd: Held = held): this {
    return this.send({ kind: 'drag', from: this.point(from, held), at: this.point(to, heldAtEnd) })
  }

  drop(from: At, to: At, held: Held = {}, heldAtEnd: Held = held): this {
    return this.send({ kind: 'drop', from: this.point(from, held), at: this.point(to, heldAtEnd) })
  }

  finish = (): this => this.send({ kind: 'finish' })
  back = (): this => this.send({ kind: 'back' })
  cancel = (): this => this.send({ kind: 'cancel' })
  leave = (): this => this.send({ kind: 'leave' })

  /** One event; an edit is made and leaves a site without fault, and what it chooses is chosen. */
  send(event: DrawEvent): this {
    const { state, preview, done } = this.#tool.step(this.state, event, this.context)
    this.state = deepFreeze(state)
    this.preview = preview
    if (!done) return this
    this.done.push(done)
    if (done.kind === 'choose') this.chosen = done.items
    if (done.kind === 'edit') {
      const before = new Set(allDrawn(this.site.drawing).map(({ sort, id }) => `${sort}${id}`))
      this.site = deepFreeze(done.edit(this.site))
      expect(checkSite(this.site)).toEqual([])
      const added = allDrawn(this.site.drawing).filter(({ sort, id }) => !before.has(`${sort}${id}`))
      if (done.choose === 'added') this.chosen = added
      else if (done.choose !== 'same') this.chosen = done.choose
    }
    return this
  }

  get told(): DrawPreview['told'] {
    return this.preview?.told ?? null
  }

  get edits(): number {
    return this.done.filter(({ kind }) => kind === 'edit').length
  }
}
