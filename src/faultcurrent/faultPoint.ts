import type { OperatingPoint } from './operatingPoint.ts'

/** Amperes that enter the network at the fault; less than 0 where they come out of it. */
export function faultLinkA({ equations: { circuit }, x }: OperatingPoint): number {
  return x[circuit.nodeCount + circuit.faultLink]
}

/** Volts of the fault point against what it is referenced to; of an a.c. source behind its own ohms. */
export function faultPointV({ equations: { circuit }, x }: OperatingPoint): number {
  const { against, faultNode, faultLink, links, nodeCount, module } = circuit
  const reference = against.reduce((sum, { at, weight }) => sum + weight * x[at], 0)
  if (module) return x[faultNode] - reference
  return links[faultLink].emfV - links[faultLink].ohm * x[nodeCount + faultLink]
}
