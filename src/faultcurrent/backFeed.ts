import type { OperatingPoint } from './operatingPoint.ts'
import { pvCurrentA } from './pvCurve.ts'

/** Amperes that the rest of the array pushes backwards through modules of the faulted string; 0 where it pushes none. */
export function backFeedA({ equations: { circuit }, x }: OperatingPoint): number {
  let most = 0
  for (const { from, to, modules, isFaulted } of circuit.segments) {
    if (isFaulted) most = Math.max(most, -pvCurrentA(circuit.module!, (x[to] - x[from]) / modules))
  }
  // with nothing pushed, rounding is left
  return circuit.module && most > 1e-9 * circuit.module.shortCircuitA ? most : 0
}
