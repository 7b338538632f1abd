import type { Sureness } from './criteriaCatalogue.ts'

/** Where a figure of the fault-current layer comes from. Nothing of it is a requirement until local code says so. */
export interface RuleSource {
  readonly source: string
  readonly edition: string
  readonly clause: string
  readonly sureness: Sureness
}

const iec60479 = {
  source: 'IEC 60479-1',
  edition: '2018 (figures as in 2005)',
  sureness: 'fromMemory',
} as const
const ieee80 = { source: 'IEEE Std 80', edition: '2013', sureness: 'fromMemory' } as const
const iec60269 = { source: 'IEC 60269-1', edition: '2006', sureness: 'fromMemory' } as const
const residual = { source: 'IEC 61008-1', edition: '2010', sureness: 'fromMemory' } as const
const inverter = { source: 'IEC 62109-2', edition: '2011', sureness: 'fromMemory' } as const
const plain = { edition: '', clause: '' } as const

/** Every rule that an answer about a fault may name; text/ has the words, docs/fault-rules.md every figure. */
export const faultRules = {
  bodyAlternating: { ...iec60479, clause: 'Tables 1 and 2' },
  bodyDirect: { ...iec60479, clause: 'Table 10' },
  zonesAlternating: { ...iec60479, clause: 'Figure 20' },
  zonesDirect: { ...iec60479, clause: 'Figure 22' },
  heartFactor: { ...iec60479, clause: 'Table 12' },
  feetOnSurface: { ...ieee80, clause: '7.4, 8.3' },
  permittedIeee80Kg50: { ...ieee80, clause: '8.4' },
  permittedIeee80Kg70: { ...ieee80, clause: '8.4' },
  permittedStepIeee80Kg50: { ...ieee80, clause: '8.3' },
  permittedStepIeee80Kg70: { ...ieee80, clause: '8.3' },
  permittedStepEn50522: { source: 'EN 50522', edition: '2010, 2022', clause: '', sureness: 'fromMemory' },
  permittedEn50522Of2010: { source: 'EN 50522', edition: '2010', clause: 'Table B.3', sureness: 'seen' },
  permittedEn50522Of2022: { source: 'EN 50522', edition: '2022', clause: 'Table B.4', sureness: 'seen' },
  permittedConventional: {
    source: 'IEC TS 60479-1, IEC 60364-4-41',
    edition: '2005',
    clause: '',
    sureness: 'seen',
  },
  permittedConventionalHalf: {
    source: 'IEC TS 60479-1, IEC 60364-4-41',
    edition: '2005',
    clause: '',
    sureness: 'seen',
  },
  fuseGates: { ...iec60269, clause: 'Table 3', sureness: 'seen' },
  fuseConventional: { ...iec60269, clause: 'Table 2' },
  fusePv: { source: 'IEC 60269-6', edition: '2010', clause: '', sureness: 'fromMemory' },
  breaker: { source: 'IEC 60898-1', edition: '2015', clause: 'Table 7', sureness: 'seenSecondary' },
  residualGeneral: { ...residual, clause: 'Table 1' },
  residualSelective: { ...residual, clause: 'Table 1' },
  residualTypeB: { source: 'IEC 62423', edition: '2009', clause: '', sureness: 'fromMemory' },
  residualBlindToDirect: { ...residual, clause: '' },
  residualInverter: { ...inverter, clause: '4.8.3.5' },
  groundFaultFuse: { source: 'UL 1741, UL 248', edition: '', clause: '', sureness: 'fromMemory' },
  groundFaultBlindSpot: { source: 'published reports on blind spots', ...plain, sureness: 'seen' },
  insulationAtStart: { ...inverter, clause: '4.8.2' },
  insulationHidden: { source: 'Ohm’s law', ...plain, sureness: 'commonPractice' },
  disconnectionTimes: {
    source: 'IEC 60364-4-41',
    edition: '2005',
    clause: 'Table 41.1',
    sureness: 'seenSecondary',
  },
} as const satisfies Readonly<Record<string, RuleSource>>

export type FaultRule = keyof typeof faultRules

/** Why a rule gives no number: it was not made for this. A result, not a problem. */
export type RuleRefusal =
  | { readonly refused: 'directCurrent' }
  | { readonly refused: 'alternatingCurrent' }
  | { readonly refused: 'tooShort'; readonly leastS: number }
  | { readonly refused: 'tooLong'; readonly mostS: number }
  | { readonly refused: 'tooFewVolts'; readonly aboveV: number }
  | { readonly refused: 'tooManyVolts'; readonly mostV: number }
  | { readonly refused: 'onlyTouch' }
  | { readonly refused: 'noRating' }
  | { readonly refused: 'unknownCharacteristic'; readonly known: readonly string[] }

/** Direct or alternating current of 50 or 60 Hz: most rules are made for one of them. */
export type CurrentKind = 'dc' | 'ac'
