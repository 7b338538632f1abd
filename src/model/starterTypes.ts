import type { TypeChoices } from './typeChoices.ts'

export type StarterId =
  'fixedTwoHigh' | 'flushRoof' | 'trackerOneHigh' | 'landscapeThreeHigh' | 'linkedFrames'

/** A pattern to start from. What it is called and said to be is in text/. */
export interface StarterType {
  readonly id: StarterId
  readonly choices: TypeChoices
}

/*
 * Sizes and sections are judgement: what such tables commonly have, not any maker's figures. Module sides are
 * those of large modules in common use; a designer types the ones on the drawing.
 */
const largeModule = { longSideM: 2.28, shortSideM: 1.13, gapAcrossM: 0.02, gapHighM: 0.02 } as const
const roofModule = { longSideM: 1.76, shortSideM: 1.13, gapAcrossM: 0.02, gapHighM: 0.02 } as const
const steelRail = { material: 'galvanised-steel', areaMm2: 400 } as const
const aluminiumRail = { material: 'aluminium-extrusion', areaMm2: 320 } as const
const steelTube = { material: 'galvanised-steel', areaMm2: 2300 } as const
const rammedPost = { buriedM: 1.5, diameterM: 0.1 } as const
const clampedOnce = { clamps: { perMember: 1, kind: 'frameClamp' }, links: null } as const

const fixedTwoHigh: TypeChoices = {
  mounting: 'fixedTilt',
  tiltDeg: 20,
  modules: { high: 2, across: 12, orientation: 'portrait', ...largeModule },
  rails: { perRow: 2, insetM: null, ...steelRail },
  tube: null,
  spliceAfter: null,
  stations: null,
  bracketKind: 'bracket',
  posts: { lines: 2, support: 'fixed', bondKinds: ['bracket'], soil: rammedPost },
  frameBond: clampedOnce,
}

export const starterTypes: readonly StarterType[] = [
  { id: 'fixedTwoHigh', choices: fixedTwoHigh },
  {
    id: 'flushRoof',
    choices: {
      ...fixedTwoHigh,
      mounting: 'flushRoof',
      tiltDeg: 15,
      modules: { high: 1, across: 6, orientation: 'portrait', ...roofModule },
      rails: { perRow: 2, insetM: null, ...aluminiumRail },
      bracketKind: null,
      posts: null,
      frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
    },
  },
  {
    id: 'trackerOneHigh',
    choices: {
      ...fixedTwoHigh,
      mounting: 'tracker',
      tiltDeg: 0,
      modules: { high: 1, across: 26, orientation: 'portrait', ...largeModule },
      rails: { perRow: 0, insetM: null, ...steelRail },
      tube: steelTube,
      bracketKind: null,
      // Past a pivot bearing the bond is a flexible jumper: grease and polymer are not relied on.
      posts: { lines: 1, support: 'pivot', bondKinds: ['jumper'], soil: { buriedM: 1.8, diameterM: 0.12 } },
    },
  },
  {
    id: 'landscapeThreeHigh',
    choices: {
      ...fixedTwoHigh,
      modules: { high: 3, across: 6, orientation: 'landscape', ...largeModule },
    },
  },
  {
    id: 'linkedFrames',
    choices: {
      ...fixedTwoHigh,
      frameBond: { clamps: null, links: { direction: 'both', kind: 'frameLink' } },
    },
  },
]
