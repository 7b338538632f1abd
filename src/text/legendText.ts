import { formatChance, formatShare } from './units.ts'
import type { Words } from './words.ts'

/** What the map can show of the array itself and over it. */
export type LegendName =
  | 'table'
  | 'module'
  | 'longMember'
  | 'crossMember'
  | 'post'
  | 'joint'
  | 'splice'
  | 'jumper'
  | 'conductor'
  | 'conductorEnd'
  | 'addedJoint'
  | 'missingJoint'
  | 'enclosure'
  | 'earthBar'
  | 'rod'
  | 'plate'
  | 'strip'
  | 'aisle'
  | 'obstacle'
  | 'suspect'
  | 'current'
  | 'faultCurrent'
  | 'faultVolts'
  | 'lostVolts'
  | 'groundVolts'
  | 'groundStep'
  | 'groundStand'
  | 'faultPlace'
  | 'secondFault'
  | 'touching'
  | 'changedJoint'
  | 'nextReading'
  | 'setUp'
  | 'walkWay'
  | keyof typeof sightWords

/** What a plan would show of a joint that goes bad: near of each joint, from far of each table. */
export const sightWords = {
  seenByCriterion: 'would read over its criterion',
  seenByComparison: 'would show only beside its equals',
  hiddenAddPair: 'hidden: another pair would show it',
  hiddenNoAccess: 'hidden: no clip or lead gets there',
  hiddenFinerKit: 'hidden: needs a four-wire tester',
  hiddenParallelPaths: 'hidden: paths beside it carry on',
  hiddenAny: 'hidden; closer in the map says why',
  tableAll: 'table: every joint would show',
  tableMost: 'table: half of its joints or more',
  tableFew: 'table: less than half would show',
  tableNone: 'table: none would show',
} as const

export function legendWord(name: LegendName, words: Words): string {
  const table: Readonly<Record<LegendName, string>> = {
    table: 'table',
    module: 'module with its frame',
    longMember: words.longMember,
    crossMember: words.crossMember,
    post: 'post',
    joint: 'joint',
    splice: 'splice',
    jumper: 'jumper between tables',
    conductor: 'conductor',
    conductorEnd: 'landing of a conductor',
    addedJoint: 'extra joint',
    missingJoint: 'joint found missing',
    enclosure: 'enclosure',
    earthBar: words.earthBar,
    rod: `${words.earth} rod`,
    plate: `${words.earth} plate`,
    strip: `buried ${words.earth} strip`,
    aisle: 'aisle',
    obstacle: 'obstacle',
    suspect: 'suspect joint: how likely it is bad',
    setUp: 'set-up: here the first clip stays on',
    walkWay: 'way on foot between set-ups; dashed: the round from one',
    nextReading: 'next reading: what to measure',
    faultCurrent: 'fault current in each joint; dashes move the way it flows',
    faultVolts: `volts of a part to ${words.remoteEarth}`,
    lostVolts: 'volts across a joint, were it lost',
    groundVolts: `volts of the ground to ${words.remoteEarth}`,
    groundStep: 'largest step of one metre',
    groundStand: 'the ground that is asked about, and its steepest metre',
    faultPlace: 'the fault',
    secondFault: 'the second fault',
    touching: 'one who touches',
    changedJoint: 'joint changed in this question',
    current: 'current of the chosen reading: share in each joint',
    ...sightWords,
  }
  return table[name]
}

/** The value of a sample in a legend row: a probability, a share of the current. Those of a fault: `faultLegend.ts`. */
export function legendStep(name: LegendName, value: number): string {
  return name === 'suspect' ? formatChance(value) : formatShare(value)
}

export const nothingShown = 'Nothing is drawn on the map.'

/** How what is drawn by degrees grows, and from which value on it is drawn at all. */
export function describeScale(name: LegendName, leastShown: number): string {
  const grows =
    name === 'suspect' ? 'The area of a dot grows with it.' : 'Four times the share, twice the width.'
  return leastShown > 0 ? `${grows} Below ${legendStep(name, leastShown)} nothing is drawn.` : grows
}
