import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'

export type EarthingSystem = 'TN' | 'TT'

/** Seconds within which a supply is to be switched off, by volts to earth: plain data, which a site may replace by its own. */
export interface DisconnectionTable {
  readonly name: string
  /** Volts above which it asks for anything. */
  readonly aboveV: number
  /** Final circuits up to `finalUpToA`; rows by rising volts, the last without end. */
  readonly rows: readonly { readonly upToV: number; readonly TN: number; readonly TT: number }[]
  /** Distribution circuits, and final ones above `finalUpToA`. */
  readonly others: Readonly<Record<EarthingSystem, number>>
  readonly finalUpToA: number
}

/** IEC 60364-4-41:2005 Table 41.1, alternating current; read in a national edition of it. Later ones have 63 A with socket-outlets. */
export const iec60364Table: DisconnectionTable = {
  name: 'IEC 60364-4-41:2005, Table 41.1',
  aboveV: 50,
  rows: [
    { upToV: 120, TN: 0.8, TT: 0.3 },
    { upToV: 230, TN: 0.4, TT: 0.2 },
    { upToV: 400, TN: 0.2, TT: 0.07 },
    { upToV: Infinity, TN: 0.1, TT: 0.04 },
  ],
  others: { TN: 5, TT: 1 },
  finalUpToA: 32,
}

export interface DisconnectionAsk {
  readonly kind: CurrentKind
  readonly system: EarthingSystem
  /** Volts of a phase to earth. */
  readonly phaseV: number
  /** Amperes of the circuit's overcurrent device. */
  readonly ratedA: number
  readonly isFinal: boolean
}

/** Most seconds until the supply is off. Refused for direct current, whose column is read in more than one way, and below 50 V. */
export function disconnectionTimeS(
  { kind, system, phaseV, ratedA, isFinal }: DisconnectionAsk,
  table: DisconnectionTable = iec60364Table,
): Result<number, RuleRefusal> {
  if (kind === 'dc') return fail({ refused: 'directCurrent' })
  if (!(phaseV > table.aboveV)) return fail({ refused: 'tooFewVolts', aboveV: table.aboveV })
  if (!isFinal || ratedA > table.finalUpToA) return ok(table.others[system])
  const row = table.rows.find(({ upToV }) => phaseV <= upToV)
  if (row) return ok(row[system])
  return fail({ refused: 'tooManyVolts', mostV: table.rows.at(-1)?.upToV ?? table.aboveV })
}
