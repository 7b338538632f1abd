import { bracketSort, clampSort, linkSort, postSort, soilSort, spliceSort } from '../../layout/jointPlaces.ts'
import type { FaceDrawing } from '../../layout/faceDrawing.ts'
import {
  crossPath,
  framesPath,
  membersPath,
  postsPath,
  markOf,
  marksOfSort,
  type PictureScale,
} from './typePicture.ts'

/** What a field of the form means in the picture. */
export type Meaning =
  | { readonly of: 'frames' | 'cross' | 'posts' | 'structure' }
  | { readonly of: 'longSide' | 'shortSide' | 'gapAcross' | 'gapHigh' | 'inset' }
  /** One long member, or all of them. */
  | { readonly of: 'member' | 'splices' | 'height'; readonly member: number | null }
  | { readonly of: 'sort'; readonly sort: number }

/** Two ends of a length in the picture, in pixels. */
export interface Span {
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
  readonly lengthM: number
}

export interface Shown {
  /** Lines to be drawn strongly. */
  readonly lines: string
  /** Marks to be drawn strongly. */
  readonly marks: string
  readonly span: Span | null
}

const nothing: Shown = { lines: '', marks: '', span: null }

/** What of the picture is to stand out for a field. O(joints). */
export function showMeaning(
  meaning: Meaning | null,
  drawing: FaceDrawing,
  places: Float64Array,
  scale: PictureScale,
): Shown {
  switch (meaning?.of) {
    case undefined:
      return nothing
    case 'frames':
      return { ...nothing, lines: framesPath(drawing, scale) }
    case 'cross':
      return { ...nothing, lines: crossPath(drawing, scale) }
    case 'posts':
      return { ...nothing, lines: postsPath(drawing, scale) }
    case 'structure':
      return { ...nothing, lines: crossPath(drawing, scale) + postsPath(drawing, scale) }
    case 'sort':
      return { ...nothing, marks: marksOfSort(drawing, places, scale, meaning.sort) }
    case 'member':
    case 'height':
    case 'splices':
      return showMember(meaning, drawing, places, scale)
    case 'longSide':
    case 'shortSide':
    case 'gapAcross':
    case 'gapHigh':
    case 'inset':
      return { ...nothing, span: spanOf(meaning.of, drawing, scale) }
  }
}

function showMember(
  { of, member }: Extract<Meaning, { member: number | null }>,
  drawing: FaceDrawing,
  places: Float64Array,
  scale: PictureScale,
): Shown {
  const isIt = (m: number) => member === null || m === member
  if (of === 'splices') return { ...nothing, marks: splicesOf(isIt, drawing, places, scale) }
  const lines = membersPath(drawing, scale, isIt)
  if (of === 'member' || member === null) return { ...nothing, lines }
  const upM = drawing.memberY[member - 1]
  return { ...nothing, lines, span: upright(drawing.stationX[0], 0, upM, scale) }
}

function splicesOf(
  isIt: (member: number) => boolean,
  drawing: FaceDrawing,
  places: Float64Array,
  scale: PictureScale,
): string {
  const { pattern, jointSort } = drawing
  const paths: string[] = []
  for (let j = 0; j < pattern.jointCount; j++) {
    const member = Math.floor((pattern.from[j] - pattern.longStart) / (pattern.across + 1)) + 1
    if (jointSort[j] === spliceSort && isIt(member)) paths.push(markOf(drawing, places, scale, j))
  }
  return paths.join('')
}

function spanOf(
  of: 'longSide' | 'shortSide' | 'gapAcross' | 'gapHigh' | 'inset',
  { frames, pattern, memberY }: FaceDrawing,
  scale: PictureScale,
): Span | null {
  const { across, high } = pattern
  const [first] = frames
  const middleX = first.x + first.alongM / 2
  const middleY = first.y + first.upM / 2
  const isUp = (of === 'longSide') === (pattern.type.modules.orientation === 'portrait')
  switch (of) {
    case 'longSide':
    case 'shortSide':
      return isUp
        ? upright(middleX, first.y, first.y + first.upM, scale)
        : level(first.x, first.x + first.alongM, middleY, scale)
    case 'gapAcross':
      return across < 2 ? null : level(first.x + first.alongM, frames[1].x, middleY, scale)
    case 'gapHigh':
      return high < 2 ? null : upright(middleX, first.y + first.upM, frames[across].y, scale)
    case 'inset': {
      const rail = pattern.type.longMembers.findIndex(({ carries }) => carries.includes(1))
      return rail < 0 ? null : upright(middleX, 0, memberY[rail], scale)
    }
  }
}

function upright(xM: number, fromM: number, toM: number, { x, y }: PictureScale): Span {
  return { x1: x(xM), y1: y(fromM), x2: x(xM), y2: y(toM), lengthM: toM - fromM }
}

function level(fromM: number, toM: number, yM: number, { x, y }: PictureScale): Span {
  return { x1: x(fromM), y1: y(yM), x2: x(toM), y2: y(yM), lengthM: toM - fromM }
}

export const meaningOfSort = {
  clamps: { of: 'sort', sort: clampSort },
  links: { of: 'sort', sort: linkSort },
  brackets: { of: 'sort', sort: bracketSort },
  postBonds: { of: 'sort', sort: postSort },
  soil: { of: 'sort', sort: soilSort },
} as const satisfies Record<string, Meaning>
