/**
 * A loop clamp round joint e drives its ampere round every loop that e closes and reads them all in parallel, in series
 * with e: r_e + R_∥ = 1/c_e, c_e = g_e (1 − h_e). To it the network is the one with e lifted out, read across the ends
 * of e, and e itself carries the whole ampere. With i_f the current of a joint f per ampere through the ends of e while
 * it is in place (so i_e = h_e), exactly:
 *
 *   v_f = (i_f / (1 − h_e))²,   v_e = 1                squared share of the clamp's ampere
 *   c_f − v_f c_e,              0 for e                 what limits the effect of f on this reading
 *
 * the latter by Sherman and Morrison (1950): lifting e adds (g_f X_fe)² g_e/(1 − h_e) to g_f h_f. A bridge closes no loop:
 * the clamp shows over range.
 */

/** Below this share of a joint's own c what is left of it is rounding: with e lifted it is a bridge. */
const leastShare = 1e-9

/** c of a joint as a loop reading meets it: c − v γ, with γ = c_e of the joint in the jaws; c itself for γ = 0. */
export function leftLoopS(loopS: number, squared: number, ofReadingS: number): number {
  if (ofReadingS === 0) return loopS
  const left = loopS - squared * ofReadingS
  return left > leastShare * loopS ? left : 0
}
