import { staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { capacitanceOf } from '../faultcurrent/capacitance.ts'
import type { Circuit } from '../faultcurrent/circuit.ts'
import { faultFlow, type FaultFlow } from '../faultcurrent/faultFlow.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { FaultAnswer, FaultInput } from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { alteredPreparedOf } from './alteredNetwork.ts'
import { mostResidual } from './answerCurrents.ts'
import { basisOf } from './basis.ts'
import { resolveCircuit } from './faultCircuit.ts'
import type { Progress } from './progress.ts'
import type { SiteCache } from './siteCache.ts'

/** A network, the circuit that faults onto it, and where its current goes. */
export interface SolvedFault {
  readonly prepared: PreparedNetwork
  readonly circuit: Circuit
  readonly flow: FaultFlow
}

export function* solveFault(
  input: Omit<FaultInput, 'person'>,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<SolvedFault, readonly Problem[]>> {
  const prepared = yield* alteredPreparedOf(site, input, cache)
  if (!prepared.ok) return prepared
  const circuit = resolveCircuit(prepared.value.network.index, input.at, input.drive)
  if (!circuit.ok) return circuit
  const flow = yield* staged('currents', faultFlow(prepared.value, circuit.value))
  if (!(flow.residual <= mostResidual))
    return fail([problem('numeric.residual', { residual: flow.residual, most: mostResidual })])
  return ok({ prepared: prepared.value, circuit: circuit.value, flow })
}

/** Where the current of a fault goes, and the volts of every part. */
export function* answerFaultCurrent(
  input: FaultInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<FaultAnswer, readonly Problem[]>> {
  const solved = yield* solveFault(input, site, cache)
  if (!solved.ok) return solved
  const { prepared, circuit, flow } = solved.value
  const { network } = prepared
  const { index } = network
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  return ok({
    basis: basisOf(site),
    notes: network.notes,
    faultA: flow.faultA,
    limitedBy: flow.limitedBy,
    openV: circuit.openV,
    sourceV: flow.sourceV,
    networkOhm: flow.networkOhm,
    faultV: flow.nodeV[circuit.portParts[0]],
    voltsTo: flow.voltsTo,
    partV: Float32Array.from(flow.nodeV.subarray(0, index.partCount + 1)),
    currentA: byJoint(prepared, flow.edgeA),
    ports: flow.ports.map(({ part, ...port }) => ({ ...port, part: address(part) })),
    backFeedA: flow.backFeedA,
    residual: flow.residual,
    throughEarthA: flow.throughEarthA,
    devices: [],
    insulation: null,
    capacitance: input.drive.form === 'pv' ? capacitanceOf(input.drive, circuit.openV) : null,
    person: null,
  })
}

/** Values of edges put in the places of their joints; 0 for joints that are not counted. */
export function byJoint({ network }: PreparedNetwork, ofEdge: Float64Array): Float32Array {
  const { index, edgeCount, jointOfEdge } = network
  const values = new Float32Array(index.jointCount)
  for (let e = 0; e < edgeCount; e++) values[jointOfEdge[e]] = ofEdge[e]
  return values
}
