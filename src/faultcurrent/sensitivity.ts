import { solveDense } from './denseSolve.ts'
import { jacobianAt } from './equations.ts'
import type { OperatingPoint } from './operatingPoint.ts'

/**
 * What the circuit does about small volts that come up in the network at port q, as after the loss of a joint: column q of
 * `portS` are the amperes that leave the ports for each such volt, `faultS[q]` those that leave the fault. Symmetric and
 * positive semidefinite, as conductances are.
 */
export interface Sensitivity {
  readonly portS: Float64Array
  readonly faultS: Float64Array
}

/** One linear solve per port, at the operating point. */
export function sensitivityOf({ equations, x }: OperatingPoint): Sensitivity {
  const { circuit, network, size, scaleV } = equations
  const { count } = network
  const { nodeCount, links, faultLink } = circuit
  const portS = new Float64Array(count * count)
  const faultS = new Float64Array(count)
  const a = new Float64Array(size * size)
  const b = new Float64Array(size)
  for (let q = 0; q < count; q++) {
    jacobianAt(equations, x, a)
    b.fill(0)
    // the link equations read less by the volt: what solves them is the change, less current
    links.forEach(({ ports }, l) => {
      for (const { at, weight } of ports) if (at === q) b[nodeCount + l] -= weight / scaleV
    })
    solveDense(a, b, size)
    links.forEach(({ ports }, l) => {
      for (const { at, weight } of ports) portS[at * count + q] += weight * b[nodeCount + l]
    })
    faultS[q] = b[nodeCount + faultLink]
  }
  return { portS, faultS }
}
