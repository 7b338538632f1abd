import { assert } from '../../base/assert.ts'
import { ok } from '../../base/result.ts'
import type { BoxM } from '../boxM.ts'
import { boxAroundBoxes, centreOfBox } from '../boxM.ts'
import type { DrawnItem } from '../drawnItem.ts'
import { shiftBy } from '../motion.ts'
import { byId } from '../queries/byId.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { PointM } from '../schema/primitives.ts'
import type { Site } from '../schema/site.ts'
import type { Attempt } from './edit.ts'
import { asEdit } from './edit.ts'
import { firstMissing, motionsOf, placeItems } from './placeItems.ts'

/** What is brought into line: a side, or the centres across (one north-south line) or up (one east-west line). */
export type AlignEdge = 'left' | 'right' | 'top' | 'bottom' | 'centreAcross' | 'centreUp'

interface BoxedItems {
  readonly items: readonly DrawnItem[]
  /** The box in plan of each item, in the same order; `itemBoxM` has them. */
  readonly boxes: readonly BoxM[]
}

interface Boxed {
  readonly item: DrawnItem
  readonly box: BoxM
}

/**
 * The things that are arranged by themselves. A conductor that lands somewhere is none: its ends follow what they land
 * on. A thing given twice counts once.
 */
function arranged(drawing: Drawing, { items, boxes }: BoxedItems): Boxed[] {
  assert(items.length === boxes.length, `${items.length} things have ${boxes.length} boxes`)
  const known = new Set<string>()
  return items.flatMap((item, k) => {
    const conductor = item.sort === 'conductor' ? byId(drawing.conductors).get(item.id) : null
    const key = `${item.sort} ${item.id}`
    if (known.has(key) || conductor?.points.some(({ landing }) => landing !== null)) return []
    known.add(key)
    return [{ item, box: boxes[k] }]
  })
}

function shiftEach(site: Site, boxed: readonly Boxed[], shiftOf: (one: Boxed, k: number) => PointM): Attempt {
  const items = boxed.map(({ item }) => item)
  return placeItems(
    site,
    motionsOf(items, (_, k) => shiftBy(shiftOf(boxed[k], k))),
  )
}

export interface AlignItems extends BoxedItems {
  readonly edge: AlignEdge
}

/** Brings things into line with the outermost of them, or by their centres with the middle of all. */
export const { can: canAlignItems, edit: alignItems } = asEdit<AlignItems>((site, args) => {
  const missing = firstMissing(site.drawing, args.items)
  if (missing) return missing
  const boxed = arranged(site.drawing, args)
  const around = boxAroundBoxes(boxed.map(({ box }) => box))
  if (around === null || boxed.length < 2) return ok(site)
  return shiftEach(site, boxed, ({ box }) => toEdge(box, around, args.edge))
})

function toEdge(box: BoxM, around: BoxM, edge: AlignEdge): PointM {
  switch (edge) {
    case 'left':
      return { x: around.minX - box.minX, y: 0 }
    case 'right':
      return { x: around.maxX - box.maxX, y: 0 }
    case 'top':
      return { x: 0, y: around.maxY - box.maxY }
    case 'bottom':
      return { x: 0, y: around.minY - box.minY }
    case 'centreAcross':
      return { x: centreOfBox(around).x - centreOfBox(box).x, y: 0 }
    case 'centreUp':
      return { x: 0, y: centreOfBox(around).y - centreOfBox(box).y }
  }
}

export interface SpaceEvenly extends BoxedItems {
  readonly along: 'x' | 'y'
}

/**
 * Makes the clear distances between things equal, west to east or south to north. The first and the last stay; so
 * two or fewer stay as they are. Things that overlap in all may overlap after it, each by the same length.
 */
export const { can: canSpaceEvenly, edit: spaceEvenly } = asEdit<SpaceEvenly>((site, args) => {
  const missing = firstMissing(site.drawing, args.items)
  if (missing) return missing
  const [least, most] = args.along === 'x' ? (['minX', 'maxX'] as const) : (['minY', 'maxY'] as const)
  const middle = ({ box }: Boxed) => box[least] + box[most]
  const boxed = arranged(site.drawing, args).sort((a, b) => middle(a) - middle(b))
  if (boxed.length < 3) return ok(site)
  const lengthsM = boxed.reduce((sum, { box }) => sum + box[most] - box[least], 0)
  const spanM = boxed.at(-1)!.box[most] - boxed[0].box[least]
  const gapM = (spanM - lengthsM) / (boxed.length - 1)
  let nextM = boxed[0].box[least]
  const shiftsM = boxed.map(({ box }, k) => {
    const shiftM = k === 0 || k === boxed.length - 1 ? 0 : nextM - box[least]
    nextM += box[most] - box[least] + gapM
    return shiftM
  })
  return shiftEach(site, boxed, (_, k) =>
    args.along === 'x' ? { x: shiftsM[k], y: 0 } : { x: 0, y: shiftsM[k] },
  )
})
