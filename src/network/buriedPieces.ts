import { assert } from '../base/assert.ts'
import { rodMutual } from './electrodeOhm.ts'

/**
 * Buried metal as the soil sees it, cut into pieces that are small beside what lies between them: a rod or post
 * is one piece, a strip one for every few metres. Pieces pieceStart[k] … pieceStart[k + 1] − 1 are electrode k.
 */
export interface BuriedPieces {
  readonly count: number
  readonly pieceStart: Int32Array
  /** What electrode k reads alone, to remote earth, in soil of 1 Ω·m: metres to the power of minus one. */
  readonly alonePerM: Float64Array
  /** Of each piece, in plan; and what it reads alone in soil of 1 Ω·m. */
  readonly xM: Float64Array
  readonly yM: Float64Array
  readonly selfPerM: Float64Array
  /** The upright rod from the surface down that shares soil with others as the piece does. */
  readonly lengthM: Float64Array
  readonly radiusM: Float64Array
  /** Distance between rows of posts that lie along x; null where there are none. */
  readonly rowPitchM: number | null
}

/** Share of the smaller resistance of two pieces that their mutual resistance may come to. */
const mostMutual = 0.95

/**
 * Mutual resistance of two pieces in soil of 1 Ω·m: that of two upright rods (`mutualRodOhm`), and at most 95 % of what
 * the better of the two reads alone. A volt on the better one is more than it can raise anywhere else; pieces
 * that stand in one another are thus nearly one electrode, and never less than one.
 */
export function mutualPerM(pieces: BuriedPieces, i: number, j: number): number {
  const { xM, yM, lengthM, radiusM, selfPerM } = pieces
  const across = Math.hypot(xM[i] - xM[j], yM[i] - yM[j])
  const d = Math.max(across, radiusM[i], radiusM[j])
  return Math.min(
    rodMutual(lengthM[i], lengthM[j], d) / (2 * Math.PI),
    mostMutual * selfPerM[i],
    mostMutual * selfPerM[j],
  )
}

/** Every number that soil is computed from is finite and above nothing. */
export function assertPieces(pieces: BuriedPieces): void {
  const { count, xM, yM, selfPerM, lengthM, radiusM, pieceStart, alonePerM } = pieces
  assert(pieceStart[count] === xM.length, 'every piece belongs to an electrode')
  for (let k = 0; k < count; k++) {
    assert(alonePerM[k] > 0 && alonePerM[k] < Infinity, `electrode ${k} reads ${alonePerM[k]} alone`)
    assert(pieceStart[k] < pieceStart[k + 1], `electrode ${k} has no piece`)
  }
  for (let i = 0; i < xM.length; i++) {
    const isSized = selfPerM[i] > 0 && lengthM[i] > 0 && radiusM[i] > 0 && selfPerM[i] < Infinity
    assert(isSized && Number.isFinite(xM[i] + yM[i]), `piece ${i} of an electrode has no size or place`)
  }
}
