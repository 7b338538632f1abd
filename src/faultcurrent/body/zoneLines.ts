import type { CurvePoints } from '../../base/throughPoints.ts'

/**
 * Lines between the zones of effects, ampere by seconds, left hand to both feet. Read off figures on logarithmic paper,
 * from memory: ± 15 % at best, and as stated at each line. Flat beyond their ends: below 10 ms nothing is published.
 */
export interface ZoneLines {
  /** Below: usually not felt. */
  readonly felt: CurvePoints
  /** Below: felt, usually without harm; above, muscles no longer obey. */
  readonly muscles: CurvePoints
  /** Above: the heart may fibrillate (line c1). */
  readonly heart: CurvePoints
  /** Above: a chance of fibrillation of more than some 5 % (line c2). */
  readonly heartLikely: CurvePoints
}

/** IEC 60479-1:2018 Figure 20, rms. */
export const alternatingLines: ZoneLines = {
  felt: [[0.01, 0.0005]],
  // 200 mA below 20 ms and 5 mA for long; between them a straight line on logarithmic paper, least sure of all.
  muscles: [
    [0.02, 0.2],
    [2, 0.005],
  ],
  heart: [
    [0.02, 0.5],
    [0.1, 0.4],
    [0.2, 0.2],
    [0.5, 0.1],
    [1, 0.05],
    [3, 0.04],
  ],
  // As tabulated in EN 50522 Table B.1.
  heartLikely: [
    [0.05, 0.9],
    [0.1, 0.75],
    [0.2, 0.6],
    [0.5, 0.2],
    [1, 0.08],
    [2, 0.06],
    [5, 0.051],
    [10, 0.05],
  ],
}

/**
 * IEC 60479-1:2018 Figure 22, current upwards (feet positive), the worse direction: downwards the heart bears about
 * twice as much. c2 is no line that was remembered: up to 0.2 s that of alternating current, from 3 s on 3.75 times
 * it, the standard's equivalence of the two.
 */
export const directLines: ZoneLines = {
  felt: [[0.01, 0.002]],
  muscles: [
    [0.02, 0.2],
    [2, 0.025],
  ],
  heart: [
    [0.2, 0.5],
    [3, 0.15],
  ],
  heartLikely: [
    [0.05, 0.9],
    [0.1, 0.75],
    [0.2, 0.6],
    [3, 0.21],
    [10, 0.1875],
  ],
}
