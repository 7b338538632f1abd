import type { BoxM } from '../../model/boxM.ts'
import { boxAround } from '../../model/boxM.ts'
import type { DrawnItem } from '../../model/drawnItem.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { DrawContext } from './drawTool.ts'
import { shiftedM } from './places.ts'

/** What things look like while they are moved, turned or repeated. */
export interface Shapes {
  readonly outlines: readonly (readonly PointM[])[]
  readonly lines: readonly (readonly PointM[])[]
}

/** Of more things than this only the box around them all is shown. */
export const mostShapes = 300

/** O(things and their points). */
export function shapesOf({ outlineOf }: DrawContext, items: readonly DrawnItem[]): Shapes {
  const outlines: (readonly PointM[])[] = []
  const lines: (readonly PointM[])[] = []
  for (const item of items) {
    const outline = outlineOf(item)
    if (outline) (outline.isClosed ? outlines : lines).push(outline.pointsM)
  }
  if (outlines.length + lines.length <= mostShapes) return { outlines, lines }
  return boxedShapes({ outlines, lines })
}

/** The box around all of them. */
export function boxedShapes({ outlines, lines }: Shapes): Shapes {
  const box = boxAround([...outlines, ...lines].flat())
  return { outlines: box ? [cornersOf(box)] : [], lines: [] }
}

function cornersOf({ minX, minY, maxX, maxY }: BoxM): readonly PointM[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ]
}

export function shiftedShapes(shapes: Shapes, by: PointM): Shapes {
  return mapPoints(shapes, (point) => shiftedM(point, by))
}

/** Turned clockwise, as bearings turn. */
export function turnedShapes(shapes: Shapes, byDeg: number, about: PointM): Shapes {
  const angle = (byDeg * Math.PI) / 180
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  return mapPoints(shapes, ({ x, y }) => ({
    x: about.x + (x - about.x) * cos + (y - about.y) * sin,
    y: about.y - (x - about.x) * sin + (y - about.y) * cos,
  }))
}

function mapPoints({ outlines, lines }: Shapes, change: (point: PointM) => PointM): Shapes {
  return {
    outlines: outlines.map((points) => points.map(change)),
    lines: lines.map((points) => points.map(change)),
  }
}
