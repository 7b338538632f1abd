import type { FaultDrive } from '../model/faultAnswers.ts'
import type { Circuit } from './circuit.ts'
import { portList } from './portList.ts'

/**
 * An a.c. source behind its ohms, with those of the live conductor and of the fault in series (Thévenin). Effective values,
 * ohms alone: no reactance is counted, so that the current of a long or heavy circuit comes out too large.
 */
export function acCircuit(
  { source, conductorOhm }: Extract<FaultDrive, { form: 'ac' }>,
  at: number,
  returnPart: number,
): Circuit {
  const list = portList()
  const node = [{ at: 0, weight: 1 }]
  const port = (part: number) => [{ at: list.portOf(part), weight: 1 }]
  return {
    nodeCount: 1,
    module: null,
    segments: [],
    links: [
      {
        role: 'fault',
        nodes: node,
        ports: port(at),
        ohm: source.sourceOhm + conductorOhm,
        emfV: source.phaseV,
      },
      { role: 'return', nodes: node, ports: port(returnPart), ohm: 0, emfV: 0 },
    ],
    portParts: list.parts,
    faultLink: 0,
    openV: source.phaseV,
    faultNode: 0,
    against: node,
    referencePort: list.portOf(returnPart),
    earthedPart: returnPart,
  }
}
