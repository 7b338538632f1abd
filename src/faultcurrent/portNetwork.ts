/**
 * The bond network as a circuit sees it from a few parts. Ports that something joins form an island; each island has a base,
 * and what an ampere from port q to its base raises at port p above the base is ohm[p · count + q]: symmetric, 0 in the
 * rows and columns of bases and between islands. It is the exact Kron reduction, in ohms.
 */
export interface PortNetwork {
  readonly count: number
  readonly islandCount: number
  readonly island: readonly number[]
  readonly ohm: Float64Array
}
