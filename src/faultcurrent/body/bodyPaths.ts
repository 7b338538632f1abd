import type { BodyPath } from '../../model/faultAnswers.ts'

/**
 * Impedance of a path as a share of that from hand to hand. EN 50522:2010 annex B has 0.75 and 0.5 (from memory);
 * IEC 60479-1 says 10 to 30 % less from hand to foot.
 */
export const impedanceShare: Readonly<Record<BodyPath, number>> = {
  handToHand: 1,
  handToFeet: 0.75,
  bothHandsToFeet: 0.5,
}

/**
 * Heart-current factor, IEC 60479-1 Table 12 (from memory): how dangerous to the heart a current by this path is, against
 * the same current from the left hand to both feet. The left hand is taken, the worse one; the right has 0.8.
 */
export const heartFactor: Readonly<Record<BodyPath, number>> = {
  handToHand: 0.4,
  handToFeet: 1,
  bothHandsToFeet: 1,
}
