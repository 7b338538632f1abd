import type { FaultDrive } from '../model/faultAnswers.ts'

/** Mains frequency and half the mains volts of a single-phase inverter that switches both poles (common practice). */
const mainsHz = 50
const halfMainsV = 115

/**
 * What the array's capacitance to earth holds and leads: ½CV² at the volts that the fault point has to earth before it touches
 * anything, and, for an inverter without a transformer, the current that half the mains volts send through it, 2πf·C·V
 * (common practice for a single-phase bridge; a teaching figure, every circuit has its own).
 */
export function capacitanceOf(
  { source, capacitanceF }: Extract<FaultDrive, { form: 'pv' }>,
  openV: number,
): { readonly joule: number; readonly leakageA: number } {
  const isOnMains = source.referencing === 'transformerless'
  return {
    joule: (capacitanceF * openV * openV) / 2,
    leakageA: isOnMains ? 2 * Math.PI * mainsHz * capacitanceF * halfMainsV : 0,
  }
}
