import { assert } from '../../base/assert.ts'
import { logLogThrough } from '../../base/throughPoints.ts'
import type { BodyPath, ShockZone } from '../../model/faultAnswers.ts'
import type { CurrentKind } from '../../model/faultRules.ts'
import { heartFactor } from './bodyPaths.ts'
import { alternatingLines, directLines } from './zoneLines.ts'

export interface BodyShock {
  readonly kind: CurrentKind
  readonly path: BodyPath
  /** Amperes through the body, rms for alternating current. */
  readonly currentA: number
  /** Seconds; null: without end. */
  readonly durationS: number | null
}

/** From least to worst. Zones 1, 2, 3 of the standard; zone 4 up to and beyond some 5 % of hearts that fibrillate. */
export const shockZones: readonly ShockZone[] = ['notFelt', 'felt', 'muscles', 'heart', 'heartLikely']

/**
 * Zone of effects of a current through a body. The heart is judged by the current times the path's heart-current factor;
 * feeling and muscles by the current itself. Never gets milder with more current or with more time.
 */
export function shockZone({ kind, path, currentA, durationS }: BodyShock): ShockZone {
  assert(currentA >= 0, `${currentA} A through a body`)
  assert(durationS === null || durationS >= 0, `${durationS} s in a circuit`)
  const lines = kind === 'ac' ? alternatingLines : directLines
  const seconds = durationS ?? Infinity
  const heartA = currentA * heartFactor[path]
  if (heartA >= logLogThrough(lines.heartLikely, seconds)) return 'heartLikely'
  if (heartA >= logLogThrough(lines.heart, seconds)) return 'heart'
  if (currentA >= logLogThrough(lines.muscles, seconds)) return 'muscles'
  return currentA >= logLogThrough(lines.felt, seconds) ? 'felt' : 'notFelt'
}
