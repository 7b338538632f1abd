/** DC with its sign, AC, in volts. */
export interface Volts {
  readonly directV: number
  readonly alternatingV: number
}

export interface VoltsReading {
  readonly clips: Volts
  readonly toEarth: Volts
}

/** `0.02 V`, `12 V`: as it was typed, with no digit that nobody read. */
export function formatVolts(volts: number): string {
  return `${String(Number(volts.toPrecision(12))).replace('-', '−')} V`
}

/** The greatest of four voltages, with where it stands and whether it is DC or AC. */
export function greatestVolts({ clips, toEarth }: VoltsReading): {
  readonly where: 'clips' | 'toEarth'
  readonly kind: 'DC' | 'AC'
  readonly volts: number
} {
  const all = [
    { where: 'clips', kind: 'DC', volts: clips.directV },
    { where: 'clips', kind: 'AC', volts: clips.alternatingV },
    { where: 'toEarth', kind: 'DC', volts: toEarth.directV },
    { where: 'toEarth', kind: 'AC', volts: toEarth.alternatingV },
  ] as const
  return all.reduce((most, one) => (Math.abs(one.volts) > Math.abs(most.volts) ? one : most))
}
