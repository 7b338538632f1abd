/**
 * Nine-point Gauss–Hermite rule for a standard normal variable z: E f(z) ≈ Σ weight · f(node), exact for
 * polynomials up to degree 17. Nodes are the roots of the probabilists' Hermite polynomial He₉
 * (Abramowitz & Stegun 1964, table 25.10, after division by the weight function).
 */
export const normalNodes: readonly number[] = [
  -4.512745863399783, -3.20542900285647, -2.07684797867783, -1.023255663789132, 0, 1.023255663789132,
  2.07684797867783, 3.20542900285647, 4.512745863399783,
]

export const normalWeights: readonly number[] = [
  0.00002234584400774, 0.00278914132123176, 0.04991640676521787, 0.24409750289493936, 0.40634920634920635,
  0.24409750289493936, 0.04991640676521787, 0.00278914132123176, 0.00002234584400774,
]
