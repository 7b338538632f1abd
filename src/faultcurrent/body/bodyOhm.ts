import { assert } from '../../base/assert.ts'
import { linearThrough } from '../../base/throughPoints.ts'
import type { BodyPath, BodyPercentile } from '../../model/faultAnswers.ts'
import type { CurrentKind } from '../../model/faultRules.ts'
import { impedanceShare } from './bodyPaths.ts'
import { bodyCurves } from './bodyTables.ts'

/** Whose body, by which path, and how it is held. */
export interface Body {
  readonly kind: CurrentKind
  readonly path: BodyPath
  readonly percentile: BodyPercentile
  readonly isWet: boolean
}

/**
 * Total impedance of a body in ohm with `touchV` volts (0 or more) across it, without feet and shoes: a large area of contact.
 * IEC 60479-1:2018. Between the table's voltages a straight line; below 25 V the value at 25 V, which is less than a
 * body has there and so errs towards more current; above 1000 V the value at 1000 V, the table's asymptote. Wet and
 * direct current, for which there is no table: the dry one, lessened in the proportion of wet to dry of alternating current.
 * Never rises with the volts.
 */
export function bodyOhm({ kind, path, percentile, isWet }: Body, touchV: number): number {
  assert(touchV >= 0, `${touchV} V across a body`)
  const { dryAlternating, wetAlternating, dryDirect } = bodyCurves
  const dry = linearThrough((kind === 'ac' ? dryAlternating : dryDirect)[percentile], touchV)
  const wet = isWet
    ? linearThrough(wetAlternating[percentile], touchV) / linearThrough(dryAlternating[percentile], touchV)
    : 1
  return dry * wet * impedanceShare[path]
}
