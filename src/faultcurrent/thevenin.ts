import { pairResistance } from '../network/pairResistance.ts'
import { solveDense } from './denseSolve.ts'
import { jacobianAt } from './equations.ts'
import type { FaultFlow } from './faultFlow.ts'

/**
 * Ohms between two parts as somebody who touches both sees them (Thévenin): those of the network with the circuit on it, whose
 * curves are taken along their slope where they stand. With T_q the volts that an ampere of port q raises between the
 * parts, an ampere between them raises T_q at the ports (reciprocity), the circuit answers with currents J, and
 *
 *   R = R_network + Σ T_q J_q
 *
 * Parts of two islands have the circuit between them. Infinity where nothing joins them.
 */
export function theveninOhm({ reduced, point }: FaultFlow, a: number, b: number): number {
  const { prepared, parts, base, island, electrical, potentialV, count } = reduced
  const { equations, x } = point
  const { circuit, size, scaleV, scaleA } = equations
  const { of } = prepared.network.electrical.islands
  const { factor } = prepared.solver
  const first = electrical.indexOf(of[a])
  const second = electrical.indexOf(of[b])
  if (a === b) return 0
  if (first < 0 || second < 0) return of[a] === of[b] ? pairResistance(factor, a, b) : Infinity
  const between = new Float64Array(count)
  for (let q = 0; q < count; q++) {
    const volts = potentialV[q]
    if (!volts) continue
    const above = (part: number, where: number) =>
      where === island[q] ? volts[part] - volts[parts[base[where]]] : 0
    between[q] = above(a, first) - above(b, second)
  }
  const bases = circuit.nodeCount + circuit.links.length
  const matrix = new Float64Array(size * size)
  jacobianAt(equations, x, matrix)
  const change = new Float64Array(size)
  circuit.links.forEach(({ ports }, l) => {
    for (const { at, weight } of ports) change[circuit.nodeCount + l] += (weight * between[at]) / scaleV
  })
  if (first !== second) {
    if (bases + first < size - 1) change[bases + first] -= 1 / scaleA
    if (bases + second < size - 1) change[bases + second] += 1 / scaleA
  }
  solveDense(matrix, change, size)
  let ohm =
    first === second
      ? pairResistance(factor, a, b)
      : pairResistance(factor, a, parts[base[first]]) +
        pairResistance(factor, b, parts[base[second]]) +
        change[bases + first] -
        change[bases + second]
  circuit.links.forEach(({ ports }, l) => {
    for (const { at, weight } of ports) ohm += weight * between[at] * change[circuit.nodeCount + l]
  })
  // a sum of squares by its nature: less than nothing only by rounding
  return Math.max(0, ohm)
}
