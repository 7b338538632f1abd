import type { FaultDrive, InsulationSeen } from '../model/faultAnswers.ts'
import type { ProtectiveDevice } from '../model/schema/faults.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { FaultFlow } from './faultFlow.ts'
import { insulationSeen } from './insulation/insulationSeen.ts'
import type { OperatingPoint } from './operatingPoint.ts'
import { touchOhm } from './pvCircuit.ts'
import { pvCurrentA } from './pvCurve.ts'

/**
 * Amperes before a device: in a string's fuse or breaker what the faulted string carries at its poles, in the fuse of the
 * functional earth and in residual current what comes back through the earthing, behind an a.c. source the fault's current.
 */
export function deviceSeesA(form: ProtectiveDevice['form'], flow: FaultFlow): number {
  if (!flow.point.equations.circuit.module) return flow.faultA
  switch (form) {
    case 'fuse':
    case 'circuitBreaker':
      return atPolesA(flow.point)
    case 'residualCurrent':
    case 'groundFaultFuse': {
      const earthing = flow.ports.filter(({ role }) => role === 'earthing')
      return Math.abs(earthing.reduce((sum, { currentA }) => sum + currentA, 0))
    }
    case 'insulationMonitor':
      return 0
  }
}

/** The most that the faulted string carries where it meets a pole; nodes 0 and 1 are the poles. */
function atPolesA({ equations: { circuit }, x }: OperatingPoint): number {
  const ends = circuit.segments.filter(({ isFaulted, from, to }) => isFaulted && (from === 0 || to === 1))
  const amps = ends.map(({ from, to, modules }) =>
    Math.abs(pvCurrentA(circuit.module!, (x[to] - x[from]) / modules)),
  )
  return Math.max(0, ...amps)
}

/**
 * What insulation monitoring reads before an inverter starts, the best of the faults' ways to the part where it is earthed. None
 * for an a.c. source, and for an array with an earthed pole, which cannot be monitored so.
 */
export function insulationOf(drive: FaultDrive, flow: FaultFlow, earthed: number): InsulationSeen | null {
  if (drive.form === 'ac') return null
  const { referencing, openCircuitV } = drive.source
  if (referencing === 'earthedNegative' || referencing === 'earthedPositive') return null
  const { network, solver } = flow.reduced.prepared
  const faulted = flow.ports
    .filter(({ role }) => role === 'fault' || role === 'second')
    .map(({ part }) => part)
  const ways = faulted.map((part) => pairResistance(solver.factor, part, earthed) + touchOhm)
  const { of } = network.metal.islands
  return insulationSeen({
    mostV: openCircuitV,
    poleOhm: drive.insulationOhm,
    faultPathOhm: Math.min(...ways),
    isMetalPath: faulted.some((part) => of[part] === of[earthed]),
  })
}
