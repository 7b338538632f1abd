import type { Circuit } from './circuit.ts'
import type { PortNetwork } from './portNetwork.ts'
import { pvCurrentA, pvSlopeS } from './pvCurve.ts'

/**
 * The equations of a circuit on its ports, in the unknowns x = (volts of nodes, amperes of links, volts of island bases):
 *
 *   node    Σ currents of its segments − Σ weight · I of its links = 0
 *   link    emf + Σ weight · V_node − Σ weight · V_port − ohm · I = 0,   V_port = V_base + Σ_q Z_pq J_q
 *   island  Σ J of its ports = 0
 *
 * with J_p the current that the links bring to port p. Everything hangs together through the circuit, so that one of these
 * says nothing new and all volts are free by one constant: base 0 is put at 0 V in place of the last island's sum.
 * Rows are in parts of `scaleV` and `scaleA`.
 */
export interface Equations {
  readonly circuit: Circuit
  readonly network: PortNetwork
  readonly size: number
  readonly scaleV: number
  readonly scaleA: number
}

export function equationsOf(circuit: Circuit, network: PortNetwork): Equations {
  const { nodeCount, module, segments, links } = circuit
  const size = nodeCount + links.length + network.islandCount
  const stringV = Math.max(0, ...segments.map(({ modules }) => modules * (module?.openCircuitV ?? 0)))
  const scaleV = Math.max(stringV, ...links.map(({ emfV }) => Math.abs(emfV)))
  const strings = segments.reduce((most, { strings }) => Math.max(most, strings), 1)
  const leastOhm = Math.min(...links.filter(({ emfV }) => emfV !== 0).map(({ ohm }) => ohm))
  const scaleA = module ? module.shortCircuitA * strings : scaleV / leastOhm
  return { circuit, network, size, scaleV, scaleA }
}

/** The left sides at x, into `f`. */
export function residualsAt(
  { circuit, network, size, scaleV, scaleA }: Equations,
  x: Float64Array,
  f: Float64Array,
) {
  const { nodeCount, module, segments, links } = circuit
  const { count, island, ohm } = network
  const bases = nodeCount + links.length
  f.fill(0)
  for (const { from, to, modules, strings } of segments) {
    const i = (strings * pvCurrentA(module!, (x[to] - x[from]) / modules)) / scaleA
    f[to] += i
    f[from] -= i
  }
  for (let l = 0; l < links.length; l++) {
    const { nodes, ports } = links[l]
    const i = x[nodeCount + l] / scaleA
    for (const { at, weight } of nodes) f[at] -= weight * i
    for (const { at, weight } of ports) f[bases + island[at]] += weight * i
    let volt = links[l].emfV - links[l].ohm * x[nodeCount + l]
    for (const { at, weight } of nodes) volt += weight * x[at]
    for (const { at, weight } of ports) {
      let portV = x[bases + island[at]]
      for (let m = 0; m < links.length; m++) {
        for (const other of links[m].ports)
          portV += ohm[at * count + other.at] * other.weight * x[nodeCount + m]
      }
      volt -= weight * portV
    }
    f[nodeCount + l] = volt / scaleV
  }
  f[size - 1] = x[bases] / scaleV
}

/** The derivatives of the left sides at x, by rows, into `a`. */
export function jacobianAt(
  { circuit, network, size, scaleV, scaleA }: Equations,
  x: Float64Array,
  a: Float64Array,
) {
  const { nodeCount, module, segments, links } = circuit
  const { count, island, ohm } = network
  const bases = nodeCount + links.length
  a.fill(0)
  for (const { from, to, modules, strings } of segments) {
    const g = (strings * pvSlopeS(module!, (x[to] - x[from]) / modules)) / modules / scaleA
    a[to * size + to] -= g
    a[to * size + from] += g
    a[from * size + to] += g
    a[from * size + from] -= g
  }
  for (let l = 0; l < links.length; l++) {
    const column = nodeCount + l
    const row = column * size
    for (const { at, weight } of links[l].nodes) {
      a[at * size + column] -= weight / scaleA
      a[row + at] += weight / scaleV
    }
    a[row + column] -= links[l].ohm / scaleV
    for (const { at, weight } of links[l].ports) {
      a[(bases + island[at]) * size + column] += weight / scaleA
      a[row + bases + island[at]] -= weight / scaleV
      for (let m = 0; m < links.length; m++) {
        for (const other of links[m].ports)
          a[row + nodeCount + m] -= (weight * ohm[at * count + other.at] * other.weight) / scaleV
      }
    }
  }
  a.fill(0, (size - 1) * size, size * size)
  a[(size - 1) * size + bases] = 1 / scaleV
}
