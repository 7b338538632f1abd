import type { Sight } from '../model/planning.ts'
import type { Palette } from './palette.ts'

/** What is drawn of a joint: how it would show, near; from further away all that is hidden has one mark. */
export type SightForm = Exclude<Sight, 'cannotFail'> | 'hidden'

/** How much of a table's joints would show. */
export const tableShares = ['all', 'most', 'few', 'none'] as const
export type TableShare = (typeof tableShares)[number]

type Ink = 'shown' | 'compared' | 'hidden' | 'halo'

/**
 * A mark is drawn of these, one over the other; lengths as shares of its radius. Told apart by shape, in black and white
 * too: a full disc is over the criterion, a broad ring shows by comparison only, a thin ring or square is hidden, and
 * the sign in it says why.
 */
export type MarkPiece =
  | { readonly disc: number; readonly ink: Ink }
  | {
      readonly box: readonly [x: number, y: number, halfX: number, halfY: number]
      /** Stands on a corner. */
      readonly isTurned?: boolean
      readonly ink: Ink
    }

const rim: MarkPiece = { disc: 1.28, ink: 'halo' }
const open: readonly MarkPiece[] = [rim, { disc: 1, ink: 'hidden' }, { disc: 0.78, ink: 'halo' }]
const bar = (x: number, y: number, halfX: number, halfY: number, isTurned = false): MarkPiece => ({
  box: [x, y, halfX, halfY],
  isTurned,
  ink: 'hidden',
})

export const sightMarks: Readonly<Record<SightForm, readonly MarkPiece[]>> = {
  criterion: [rim, { disc: 1, ink: 'shown' }],
  comparison: [rim, { disc: 1, ink: 'compared' }, { disc: 0.46, ink: 'halo' }],
  // another pair would show it: a plus
  addPair: [...open, bar(0, 0, 0.52, 0.15), bar(0, 0, 0.15, 0.52)],
  // no way in: a cross
  noAccess: [...open, bar(0, 0, 0.56, 0.15, true), bar(0, 0, 0.15, 0.56, true)],
  // too coarse: a grain
  finerKit: [...open, bar(0, 0, 0.3, 0.3, true)],
  // two ways side by side
  parallelPaths: [...open, bar(0, -0.27, 0.5, 0.13), bar(0, 0.27, 0.5, 0.13)],
  hidden: [
    { box: [0, 0, 1.25, 1.25], ink: 'halo' },
    { box: [0, 0, 0.95, 0.95], ink: 'hidden' },
    { box: [0, 0, 0.5, 0.5], ink: 'halo' },
  ],
}

/** Radius of a mark in CSS pixels: with signs in it from where they can be made out, small before. */
export function sightRadiusPx(pxPerM: number, isNear: boolean): number {
  return isNear ? Math.min(Math.max(0.11 * pxPerM, 4.6), 9) : Math.min(Math.max(0.28 * pxPerM, 2.2), 3.4)
}

/** Of each dash the share that is filled; a table without any is an empty outline, one with all is full. */
export const dashShares: Readonly<Record<TableShare, number>> = { all: 1, most: 0.62, few: 0.28, none: 0 }
export const dashPx = 9

type Context = Pick<
  CanvasRenderingContext2D,
  'beginPath' | 'arc' | 'moveTo' | 'lineTo' | 'closePath' | 'fill' | 'fillStyle'
>

/** A mark by itself, as the legend and lists show it. */
export function drawSightMark(
  context: Context,
  form: SightForm,
  at: { readonly x: number; readonly y: number },
  radiusPx: number,
  palette: Pick<Palette, Ink>,
): void {
  for (const piece of sightMarks[form]) {
    context.fillStyle = palette[piece.ink]
    context.beginPath()
    if ('disc' in piece) context.arc(at.x, at.y, piece.disc * radiusPx, 0, 2 * Math.PI)
    else {
      const [x, y, halfX, halfY] = piece.box
      const [c, s] = piece.isTurned ? [Math.SQRT1_2, Math.SQRT1_2] : [1, 0]
      ;[
        [-1, -1],
        [1, -1],
        [1, 1],
        [-1, 1],
      ].forEach(([i, j], k) => {
        const [dx, dy] = [x + i * halfX, y + j * halfY]
        const to = k === 0 ? 'moveTo' : 'lineTo'
        context[to](at.x + radiusPx * (c * dx - s * dy), at.y + radiusPx * (s * dx + c * dy))
      })
      context.closePath()
    }
    context.fill()
  }
}
