/** The tolerances of this folder, each with its reason. Structure (bridges, cuts, islands) is never decided by one. */

/**
 * How far the computed current of a bridge may lie from −1, 0 or 1 A before the solution counts as wrong.
 * Rounding leaves g ε max|x|: 1e-8 for a joint of 10 µΩ whose pair stands at 1000 V per ampere. A missing
 * or doubled edge leaves an error of the order of one.
 */
export const BRIDGE_CURRENT_SLACK = 1e-4

/**
 * Least pivot, in parts of the diagonal entry, that the kernel of a joint set divides by. A set without a
 * cut has pivots above 0; when conductances differ by more than 1e12, rounding may leave less than this, and
 * the floor then keeps the answer finite and large.
 */
export const SET_PIVOT_FLOOR = 1e-13

/**
 * Pivot share under which the answer of a joint set should be had by rebuilding the network instead. Measured on
 * pieces left hanging in soil, the relative error is some 4e-15/share: 1e-10 for joints of 0.1 mΩ on piles
 * of 10 Ω, and six digits at this bound, beyond any reading.
 */
export const SET_PIVOT_TRUST = 1e-8

/**
 * Slack 1 − h under which the difference is not trusted: h carries a relative error of about 1e-15 times a
 * small factor, so that 1e-7 leaves seven digits, beyond any reading. Below, the path beside the edge is computed.
 */
export const SLACK_TRUST = 1e-7
