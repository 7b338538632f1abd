import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { capacitanceOf } from '../faultcurrent/capacitance.ts'
import { clearedWithinS, deviceActs } from '../faultcurrent/devices/deviceActs.ts'
import { deviceSeesA, insulationOf } from '../faultcurrent/deviceSights.ts'
import { faultFlow, type FaultFlow } from '../faultcurrent/faultFlow.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { DeviceActs, FaultAnswer, FaultInput } from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soilLeaks, type SoilLeaks } from '../network/soilLeaks.ts'
import { alteredPreparedOf } from './alteredNetwork.ts'
import { mostResidual } from './answerCurrents.ts'
import { basisOf } from './basis.ts'
import { resolveCircuit } from './faultCircuit.ts'
import { answerPerson, resolvePerson, type ResolvedPerson } from './faultPerson.ts'
import type { Progress } from './progress.ts'
import { indexOf, type SiteCache, type SolvedFault } from './siteCache.ts'

/** A fault's circuit and flow; the last one of each network is kept. */
export function* solveFault(
  input: Omit<FaultInput, 'person'>,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<SolvedFault, readonly Problem[]>> {
  const prepared = yield* alteredPreparedOf(site, input, cache)
  if (!prepared.ok) return prepared
  const key = JSON.stringify([input.at, input.drive])
  const known = cache.faults.get(prepared.value)
  if (known?.key === key) return ok(known.solved)
  const circuit = resolveCircuit(prepared.value.network.index, input.at, input.drive)
  if (!circuit.ok) return circuit
  const flow = yield* staged('currents', portion(faultFlow(prepared.value, circuit.value), 0, 0.9))
  if (!(flow.residual <= mostResidual))
    return fail([problem('numeric.residual', { residual: flow.residual, most: mostResidual })])
  const solved = { prepared: prepared.value, circuit: circuit.value, flow }
  cache.faults.set(prepared.value, { key, solved })
  return ok(solved)
}

/** What passes into soil in a fault, piece by piece. Yields the fraction done. */
export function* leaksOf({ prepared, flow }: SolvedFault, cache: SiteCache): Generator<number, SoilLeaks> {
  const known = cache.leaks.get(flow)
  if (known) return known
  const leaks = yield* soilLeaks(prepared.network, flow.edgeA)
  cache.leaks.set(flow, leaks)
  return leaks
}

/** Where the current of a fault goes, the volts of every part, who notices, and what one who touches carries. */
export function* answerFaultCurrent(
  input: FaultInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<FaultAnswer, readonly Problem[]>> {
  const index = yield* indexOf(site.drawing, cache)
  if (!index.ok) return index
  const person = input.person && resolvePerson(index.value, input.person)
  if (person && !person.ok) return person
  const solved = yield* solveFault(input, site, cache)
  if (!solved.ok) return solved
  return ok(
    yield* staged(
      'currents',
      portion(answerOf(input, site, solved.value, person ? person.value : null), 0.9, 0.1),
    ),
  )
}

function* answerOf(
  input: FaultInput,
  site: Site,
  { prepared, circuit, flow }: SolvedFault,
  person: ResolvedPerson | null,
): Generator<number, FaultAnswer> {
  const { network } = prepared
  const { index } = network
  const kind = input.drive.form === 'pv' ? 'dc' : 'ac'
  const insulation = insulationOf(input.drive, flow, circuit.earthedPart)
  const devices = devicesOf(input, site, flow, insulation)
  const touch = person && (yield* answerPerson(input.person!, person, flow, kind, clearedWithinS(devices)))
  yield 0.9
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  return {
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
    devices,
    insulation,
    capacitance: input.drive.form === 'pv' ? capacitanceOf(input.drive, circuit.openV) : null,
    person: touch,
  }
}

/** What each device that protects this source, or none in particular, does about it. */
export function devicesOf(
  { drive }: Pick<FaultInput, 'drive'>,
  site: Site,
  flow: FaultFlow,
  insulation: FaultAnswer['insulation'],
): readonly DeviceActs[] {
  const kind = drive.form === 'pv' ? 'dc' : 'ac'
  const near = site.drawing.devices.filter(
    ({ protects }) => protects === null || protects === drive.source.id,
  )
  return near.map((device) =>
    deviceActs(device, { kind, seesA: deviceSeesA(device.form, flow), isSudden: true, insulation }),
  )
}

/** Values of edges put in the places of their joints; 0 for joints that are not counted. */
export function byJoint({ network }: PreparedNetwork, ofEdge: Float64Array): Float32Array {
  const { index, edgeCount, jointOfEdge } = network
  const values = new Float32Array(index.jointCount)
  for (let e = 0; e < edgeCount; e++) values[jointOfEdge[e]] = ofEdge[e]
  return values
}
