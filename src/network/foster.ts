/**
 * How far the leverages miss Foster's sum (1949, "The average impedance of an electrical network"):
 *
 *   Σ h_e = nodes − islands,   h_e = g_e R_eff(ends of e)
 *
 * relative to the right-hand side (absolute where that is zero, which means a graph without edges).
 * Holds for passive joints only; check it before coupled electrodes are added. Summed with
 * Neumaier's compensation (1974), so that the defect speaks of the leverages and not of the sum.
 * O(edges).
 */
export function fosterDefect(leverage: Float64Array, nodeCount: number, islandCount: number): number {
  let sum = 0
  let lost = 0
  for (const h of leverage) {
    const next = sum + h
    lost += Math.abs(sum) >= Math.abs(h) ? sum - next + h : h - next + sum
    sum = next
  }
  const expected = nodeCount - islandCount
  return Math.abs(sum - expected + lost) / Math.max(expected, 1)
}
