import { actingAt, type Acting } from '../devices/acting.ts'

/** IEC 62109-2:2011 §4.8.3.5 (from memory): a step of so many amperes is switched off within so many seconds. */
const steps = [
  [0.03, 0.3],
  [0.06, 0.15],
  [0.15, 0.04],
] as const

const continuousS = 0.3

/** Amperes of continuous residual current at which an inverter switches off: 300 mA up to 30 kVA, above it 10 mA per kVA. */
export function continuousResidualA(inverterVa: number): number {
  return Math.max(0.3, (0.01 * inverterVa) / 1000)
}

/**
 * The residual-current monitoring of an inverter that runs without a transformer. `isSudden`: the current is there from one
 * moment to the next, as of a fault or of someone who touches; else it crept up, and the continuous level alone counts. The
 * standard has no current at which it must not act: `never` says that nothing obliges it to.
 */
export function inverterResidualActs(
  { continuousA, isSudden }: { readonly continuousA: number; readonly isSudden: boolean },
  seesA: number,
): Acting {
  const curves = [[[continuousA, continuousS]] as const, ...(isSudden ? steps.map((step) => [step]) : [])]
  const leastA = isSudden ? Math.min(steps[0][0], continuousA) : continuousA
  if (seesA < leastA) return { verdict: 'never', leastS: null, mostS: null, rule: 'residualInverter' }
  return actingAt('residualInverter', { neverUpToA: 0, holds: [], acts: curves }, seesA)
}
