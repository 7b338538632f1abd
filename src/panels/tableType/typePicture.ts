import {
  bodySort,
  bracketSort,
  clampSort,
  linkSort,
  postSort,
  soilSort,
  spliceSort,
} from '../../layout/jointPlaces.ts'
import type { FaceDrawing } from '../../layout/faceDrawing.ts'

/** A table's drawing in pixels: where its metres lie in the picture, and how large a joint's mark is. */
export interface PictureScale {
  readonly pxPerM: number
  readonly widthPx: number
  readonly heightPx: number
  /** Half the size of a mark. */
  readonly markPx: number
  readonly x: (xM: number) => number
  readonly y: (yM: number) => number
}

export const margins = { left: 56, right: 30, top: 30, bottom: 40 } as const

/** Closer together than this the marks of one gap could not be told apart; the picture scrolls instead. */
const leastPxPerM = 20.5
const mostPxPerM = 110

/** Fits the width that there is, and the height as long as marks stay apart. */
export function pictureScale(drawing: FaceDrawing, widthPx: number, heightPx: number): PictureScale {
  const { alongM, lowestY, highestY } = drawing
  const fitting = Math.min(
    (widthPx - margins.left - margins.right) / alongM,
    (heightPx - margins.top - margins.bottom) / (highestY - lowestY),
  )
  const pxPerM = Math.min(Math.max(fitting, leastPxPerM), mostPxPerM)
  return {
    pxPerM,
    widthPx: Math.ceil(alongM * pxPerM + margins.left + margins.right),
    heightPx: Math.ceil((highestY - lowestY) * pxPerM + margins.top + margins.bottom),
    markPx: Math.min(Math.max(pxPerM * 0.075, 2.6), 5),
    x: (xM) => margins.left + xM * pxPerM,
    y: (yM) => margins.top + (highestY - yM) * pxPerM,
  }
}

const besidePost = [
  [3.6, 2.2],
  [-3.6, 2.2],
  [3.6, -2.2],
] as const

/** Where each joint's mark stands in the picture; marks that share a place in metal stand side by side. */
export function markPlaces(drawing: FaceDrawing, scale: PictureScale): Float64Array {
  const { pattern, jointX, jointY, jointSort, frames } = drawing
  const { markPx } = scale
  const places = new Float64Array(2 * pattern.jointCount)
  for (let j = 0; j < pattern.jointCount; j++) {
    let x = scale.x(jointX[j])
    let y = scale.y(jointY[j])
    if (jointSort[j] === clampSort) {
      const frame = frames[pattern.from[j]]
      const isLeft = jointX[j] < frame.x + frame.alongM / 2
      // Far enough from the gap that a bracket or post in it stays to be seen.
      const insetPx = Math.min(
        Math.max(3.4 * markPx, 0.14 * scale.pxPerM),
        0.38 * frame.alongM * scale.pxPerM,
      )
      x = isLeft ? scale.x(frame.x) + insetPx : scale.x(frame.x + frame.alongM) - insetPx
    } else if (jointSort[j] === postSort) {
      // Parallel bonds of one post stand round it, so that the last post's stay within the margin.
      const [aside, above] = besidePost[(pattern.parallel[j] - 1) % besidePost.length]
      x = scale.x(pattern.xM[pattern.to[j]]) + aside * markPx
      y = scale.y(pattern.yM[pattern.to[j]]) - above * markPx
    } else if (jointSort[j] === soilSort) {
      x = scale.x(pattern.xM[pattern.from[j]])
      y = scale.y(pattern.yM[pattern.from[j]]) + 4 * markPx
    }
    places.set([x, y], 2 * j)
  }
  return places
}

/** Sorts of joints that have a mark; a member's own metal is its line. */
export const markedSorts = [clampSort, linkSort, spliceSort, bracketSort, postSort, soilSort] as const

/** Sorts drawn as lines; the others are filled. */
export function isOpenMark(sort: number): boolean {
  return sort === spliceSort || sort === soilSort
}

/**
 * The mark of a joint by its sort: a disc for a clamp, a bar for a link, a sleeve for a splice, a rhomb for a
 * bracket, a wedge for a post's bond, the sign for earth for its path through soil.
 */
export function markPath(sort: number, x: number, y: number, r: number, isUpright = false): string {
  switch (sort) {
    case clampSort:
      return `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`
    case linkSort: {
      const [w, h] = isUpright ? [0.8 * r, 2 * r] : [2 * r, 0.8 * r]
      return `M${x - w} ${y - h}h${2 * w}v${2 * h}h${-2 * w}z`
    }
    case spliceSort:
      return `M${x - 2.2 * r} ${y - 1.2 * r}h${4.4 * r}v${2.4 * r}h${-4.4 * r}zM${x} ${y - 1.2 * r}v${2.4 * r}`
    case bracketSort:
      return `M${x} ${y - 1.3 * r}l${1.3 * r} ${1.3 * r}l${-1.3 * r} ${1.3 * r}l${-1.3 * r} ${-1.3 * r}z`
    case postSort:
      return `M${x - 1.1 * r} ${y - 1.1 * r}l${2.2 * r} ${1.1 * r}l${-2.2 * r} ${1.1 * r}z`
    case soilSort:
      return (
        `M${x} ${y - 2 * r}v${2 * r}M${x - 1.6 * r} ${y}h${3.2 * r}` +
        `M${x - r} ${y + r}h${2 * r}M${x - 0.4 * r} ${y + 2 * r}h${0.8 * r}`
      )
    default:
      return ''
  }
}

/** All marks of one sort as one path, so that a table of thousands of joints is a handful of shapes. */
export function marksOfSort(
  drawing: FaceDrawing,
  places: Float64Array,
  scale: PictureScale,
  sort: number,
): string {
  const paths: string[] = []
  for (let j = 0; j < drawing.pattern.jointCount; j++) {
    if (drawing.jointSort[j] === sort) paths.push(markOf(drawing, places, scale, j))
  }
  return paths.join('')
}

export function markOf(
  { pattern, jointSort }: FaceDrawing,
  places: Float64Array,
  { markPx }: PictureScale,
  j: number,
): string {
  const isUpright = jointSort[j] === linkSort && pattern.to[j] !== pattern.from[j] + 1
  return markPath(jointSort[j], places[2 * j], places[2 * j + 1], markPx, isUpright)
}

/** The marked joint nearest to a point of the picture, −1 where none is within reach. */
export function jointAt(
  { jointSort }: FaceDrawing,
  places: Float64Array,
  x: number,
  y: number,
  withinPx: number,
): number {
  let nearest = -1
  let least = withinPx
  for (let j = 0; j < jointSort.length; j++) {
    if (jointSort[j] === bodySort) continue
    const away = Math.hypot(places[2 * j] - x, places[2 * j + 1] - y)
    if (away < least) [nearest, least] = [j, away]
  }
  return nearest
}

/** Every how many stations a number has room under the picture. */
export function stationStep({ stationX }: FaceDrawing, { pxPerM }: PictureScale, roomPx = 22): number {
  const apartPx = stationX.length > 1 ? (stationX[1] - stationX[0]) * pxPerM : roomPx
  return Math.max(1, Math.ceil(roomPx / apartPx))
}

/** Rectangles as one path. */
export function framesPath({ frames }: Pick<FaceDrawing, 'frames'>, { x, y, pxPerM }: PictureScale): string {
  return frames
    .map((f) => {
      const [w, h] = [f.alongM * pxPerM, f.upM * pxPerM]
      return `M${x(f.x)} ${y(f.y)}h${w}v${-h}h${-w}z`
    })
    .join('')
}

/** Long members from the first station to the last; those chosen, or all. */
export function membersPath(
  { memberY, stationX }: FaceDrawing,
  { x, y }: PictureScale,
  chosen: (member: number) => boolean = () => true,
): string {
  const [from, to] = [x(stationX[0]), x(stationX[stationX.length - 1])]
  return memberY.map((up, m) => (chosen(m + 1) ? `M${from} ${y(up)}H${to}` : '')).join('')
}

/** Cross members from the lowest long member to the highest; with one, a short piece to either side. */
export function crossPath({ crossX, memberY }: FaceDrawing, { x, y, pxPerM }: PictureScale): string {
  const overPx = 0.12 * pxPerM
  const [low, high] = [y(Math.min(...memberY)) + overPx, y(Math.max(...memberY)) - overPx]
  return crossX.map((at) => `M${x(at)} ${low}V${high}`).join('')
}

/** Posts as squares round what they carry. */
export function postsPath({ posts }: FaceDrawing, { x, y, markPx }: PictureScale): string {
  const half = 2.1 * markPx
  return posts
    .map((post) => `M${x(post.x) - half} ${y(post.y) - half}h${2 * half}v${2 * half}h${-2 * half}z`)
    .join('')
}
