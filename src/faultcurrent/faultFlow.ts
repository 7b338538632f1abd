import { inPortions, portion } from '../base/portion.ts'
import type { FaultPort, LimitedBy } from '../model/faultAnswers.ts'
import { edgeCurrents } from '../network/currents.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { residualInPortions } from '../network/residual.ts'
import type { Circuit } from './circuit.ts'
import { faultLinkA, faultPointV } from './faultPoint.ts'
import { leastPart, limitedBy } from './limitedBy.ts'
import { operatingPoint, portCurrentsA } from './operatingPoint.ts'
import type { OperatingPoint } from './operatingPoint.ts'
import { backFeedA } from './backFeed.ts'
import { flowThrough, reduceToPorts } from './reduceToPorts.ts'
import type { ReducedNetwork } from './reduceToPorts.ts'

/** Where the current of a fault goes in a network. Arrays by node and by edge of the network. */
export interface FaultFlow {
  readonly reduced: ReducedNetwork
  readonly point: OperatingPoint
  readonly faultA: number
  readonly limitedBy: LimitedBy
  readonly sourceV: number
  readonly networkOhm: number
  readonly backFeedA: number
  readonly ports: readonly {
    readonly role: FaultPort['role']
    readonly part: number
    readonly currentA: number
  }[]
  readonly voltsTo: 'remoteEarth' | 'reference'
  readonly nodeV: Float64Array
  readonly edgeA: Float64Array
  readonly residual: number
  readonly throughEarthA: number
}

/**
 * Solves the circuit on the network's ports, and takes the port currents back to every part and joint. O(ports · (parts +
 * joints)). Yields the fraction done.
 */
export function* faultFlow(prepared: PreparedNetwork, circuit: Circuit): Generator<number, FaultFlow> {
  const { network, conductanceS } = prepared
  const reduced = yield* portion(reduceToPorts(prepared, circuit.portParts), 0, 0.4)
  const point = operatingPoint(circuit, reduced)
  const portA = settledPorts(reduced, portCurrentsA(point), point.equations.scaleA)
  const { relativeV, injectedA } = flowThrough(reduced, portA)
  yield 0.5
  const { graph } = network
  const residual = portA.some((i) => i !== 0)
    ? yield* portion(residualInPortions(graph, conductanceS, relativeV, injectedA), 0.5, 0.2)
    : 0
  const edgeA = edgeCurrents(graph, conductanceS, relativeV, new Float64Array(graph.from.length))
  yield 0.8
  const faultA = Math.abs(faultLinkA(point))
  dropTrickle(edgeA, leastPart * Math.max(...portA.map(Math.abs)))
  yield 0.85
  const { nodeV, voltsTo } = yield* portion(voltsOfNodes(reduced, point, relativeV), 0.85, 0.1)
  return {
    reduced,
    point,
    faultA,
    limitedBy: limitedBy(point),
    sourceV: faultPointV(point),
    networkOhm: ohmOfReturn(reduced, portA, circuit),
    backFeedA: backFeedA(point),
    ports: portsOf(point, reduced),
    voltsTo,
    nodeV,
    edgeA,
    residual,
    throughEarthA: intoSoilA(prepared, edgeA),
  }
}

/** Where an island has one port, and below rounding everywhere, there is no current. */
function settledPorts(
  { island, base, count }: ReducedNetwork,
  portA: Float64Array,
  scaleA: number,
): Float64Array {
  const settled = portA.slice()
  for (let p = 0; p < count; p++) {
    const isAlone = island.every((other, q) => q === p || other !== island[p])
    if (isAlone || Math.abs(settled[p]) < 1e-13 * scaleA) settled[p] = 0
  }
  for (const p of base) {
    let rest = 0
    for (let q = 0; q < count; q++) if (q !== p && island[q] === island[p]) rest -= settled[q]
    settled[p] = rest
  }
  return settled
}

function dropTrickle(edgeA: Float64Array, leastA: number): void {
  for (let e = 0; e < edgeA.length; e++) if (Math.abs(edgeA[e]) < leastA) edgeA[e] = 0
}

/**
 * Volts of every node in an island that the circuit meets, told to remote earth where it lies in one of them, else to the part
 * where the circuit is referenced. 0 elsewhere.
 */
function* voltsOfNodes(
  { prepared, parts, base, electrical }: ReducedNetwork,
  { equations: { circuit }, x }: OperatingPoint,
  relativeV: Float64Array,
): Generator<number, Pick<FaultFlow, 'nodeV' | 'voltsTo'>> {
  const { remoteEarth } = prepared.network
  const { of: islandOf, count: islandCount } = prepared.network.electrical.islands
  const bases = circuit.nodeCount + circuit.links.length
  const offsetV = new Float64Array(islandCount)
  const isMet = new Uint8Array(offsetV.length)
  electrical.forEach((island, i) => {
    offsetV[island] = x[bases + i] - relativeV[parts[base[i]]]
    isMet[island] = 1
  })
  const isToEarth = isMet[islandOf[remoteEarth]] === 1
  const zero = isToEarth ? remoteEarth : parts[Math.max(0, circuit.referencePort)]
  const zeroV = offsetV[islandOf[zero]] + relativeV[zero]
  const nodeV = new Float64Array(islandOf.length)
  yield* inPortions(nodeV.length, (first, end) => {
    for (let v = first; v < end; v++) {
      const island = islandOf[v]
      if (isMet[island] === 1) nodeV[v] = offsetV[island] - zeroV + relativeV[v]
    }
  })
  return { nodeV, voltsTo: isToEarth ? 'remoteEarth' : 'reference' }
}

/** Ohms between the fault and the port through which most of the current leaves the network again. */
function ohmOfReturn(
  { prepared, parts, island }: ReducedNetwork,
  portA: Float64Array,
  circuit: Circuit,
): number {
  const fault = circuit.links[circuit.faultLink].ports[0].at
  let back = -1
  for (let p = 0; p < parts.length; p++) {
    if (p === fault || island[p] !== island[fault]) continue
    if (back < 0 || Math.abs(portA[p]) > Math.abs(portA[back])) back = p
  }
  if (back >= 0) return pairResistance(prepared.solver.factor, parts[fault], parts[back])
  // the circuit comes back to the very part that faulted, or not at all
  return circuit.links.some(({ ports }, l) => l !== circuit.faultLink && ports[0].at === fault) ? 0 : Infinity
}

function portsOf(
  { equations: { circuit }, x }: OperatingPoint,
  { parts }: ReducedNetwork,
): FaultFlow['ports'] {
  return circuit.links.map(({ role, ports }, l) => {
    return { role, part: parts[ports[0].at], currentA: x[circuit.nodeCount + l] }
  })
}

/** Amperes that joints lead from metal into soil. */
function intoSoilA({ network: { edgeCount, isEarthPath } }: PreparedNetwork, edgeA: Float64Array): number {
  let sum = 0
  for (let e = 0; e < edgeCount; e++) if (isEarthPath[e] === 1 && edgeA[e] > 0) sum += edgeA[e]
  return sum
}
