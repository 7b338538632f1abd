import type { LocateAnswer, ReadingAnswer, SuspectGroup } from '../../src/model/answers.ts'

/** Answers made by hand, so that each sentence can be held against the facts behind it. */
export const reading = (entry: string, change: Partial<ReadingAnswer> = {}): ReadingAnswer => ({
  entry,
  method: 'twoWire',
  around: null,
  from: 'R2/T4/F1.1',
  to: 'R2/T1/F1.1',
  kit: 'kitA',
  readOhm: 0.03,
  overRange: false,
  path: 'metal',
  expectedOhm: 0.031,
  spreadOhm: 0.02,
  networkOhm: 0.025,
  contactOhm: 0.004,
  leadOffsetOhm: 0.002,
  isLeadIn: false,
  expectedWithSuspectOhm: 0.031,
  poorContactProbability: 0.02,
  tooLowProbability: 0.001,
  verdict: 'inLine',
  setAside: null,
  repeats: null,
  ...change,
})

export const jumper: SuspectGroup = {
  joints: [{ joint: 'R2/T3+T4~1', kind: 'jumper', probability: 0.92 }],
  jointCount: 1,
  probability: 0.92,
  openProbability: 0.87,
  addedOhm: { low: 0.1, middle: 0.4, high: 3 },
  evidence: [
    { entry: 'r1', bits: 9, share: 0.31, readOhm: 1.8, expectedSoundOhm: 0.031, expectedIfBadOhm: 1.9 },
    { entry: 'r2', bits: -2.4, share: 0.05, readOhm: 0.03, expectedSoundOhm: 0.031, expectedIfBadOhm: 0.2 },
    { entry: 'r3', bits: 0.1, share: 0, readOhm: null, expectedSoundOhm: 0.03, expectedIfBadOhm: Infinity },
  ],
  cutsOffParts: 120,
}

export const threeAlike: SuspectGroup = {
  ...jumper,
  joints: ['R2/T5/F1.1~L1.2', 'R2/T5/F1.2~L1.2', 'R2/T5/F1.3~L1.4'].map((joint) => ({
    joint,
    kind: 'frameClamp',
    probability: 0.2,
  })),
  jointCount: 14,
  probability: 0.6,
  openProbability: 0.2,
  evidence: [],
  cutsOffParts: 0,
}

export function answerWith(change: Partial<LocateAnswer> = {}): LocateAnswer {
  return {
    basis: { drawingRevision: '00000000-0000-4000-8000-000000000002', recordLength: 5 },
    headline: 'suspects',
    nothingBrokenProbability: 0.03,
    groups: [jumper],
    otherProbability: 0.05,
    badCount: [0.03, 0.95, 0.02],
    unexplored: 0.001,
    trust: 1,
    levels: [],
    readings: [
      reading('r1', { readOhm: 1.8, verdict: 'highBySuspect', expectedWithSuspectOhm: 1.9 }),
      reading('r2'),
      reading('r3', { readOhm: null, overRange: true, verdict: 'overRange', to: 'B1' }),
    ],
    nullings: [
      {
        entry: 'n1',
        kit: 'kitA',
        lead: 'lead50',
        readings: 3,
        leadOhm: 0.6,
        offsetPriorSdOhm: 0.03,
        offsetOhm: 0.012,
        offsetSdOhm: 0.008,
      },
    ],
    fit: 0.43,
    coverage: {
      joints: 1240,
      seen: 300,
      notReached: 500,
      cannotBeSeen: 440,
      expectedBadUnseen: 2.34,
      examples: [
        { joint: 'R2/T1/F1.1~L1.2', kind: 'frameClamp', soundOhm: 0.0008, openOhm: 0.0009, joints: 401 },
      ],
    },
    notes: [{ note: 'uniformSoil' }, { note: 'partsAsPoints' }],
    ...change,
  }
}
