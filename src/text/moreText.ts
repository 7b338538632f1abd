import type { EntryOf } from '../model/schema/record.ts'
import { formatReadOhm } from './ohms.ts'
import { countPhotos } from './photoText.ts'
import { formatLength, type Units } from './units.ts'
import { printable } from './where.ts'

export const moreTexts = {
  title: 'More about this reading',
  reverse: 'Read the other way round',
  least: 'Least, while it would not hold still',
  most: 'Most, while it would not hold still',
  unsteadyBoth: 'Give both the least and the most, or neither.',
  unsteadyOrder: 'The least is above the most.',
  current: 'Test current that was used',
  metal: 'Temperature of the metal',
  tracker: 'Angle of the tracker',
  note: 'Note',
  around: 'Clamp closed around',
  usePicked: 'Around the joint that is picked',
  noAround:
    'Say which joint or conductor the clamp is closed around: pick it on the map, or type its address.',
  noPath: 'As drawn, no loop leads through this joint: the clamp finds nothing to drive a current in.',
  /** Why no volts are asked for, and what is read in their place. */
  clampCurrent:
    'Current in the conductor first: where the clamp shows amperes, read them before the ohms. Current of the array or ' +
    'of a fault falsifies the ohms; more than a leakage means stop and follow the procedure of the site.',
  clampNoVolts:
    'A loop clamp couples through its core and is clipped to no metal, so no volts are asked for before its ohms ' +
    '(common practice). It can still be closed round a live conductor: cautions and distances of the site hold.',
  electrode: 'Electrode',
  noElectrode: 'Choose the electrode first.',
  spikeCurrent: 'Current spike, from the electrode',
  spikePotential: 'Potential spike, from the electrode',
  spikesBoth: 'Give the places of both spikes, or of neither.',
  spikesHint:
    'Fall of potential: in uniform soil the potential spike belongs at 61.8 % of the way to the current spike (Tagg, ' +
    '“Earth Resistances”, 1964, from memory). Move it some metres both ways: the value should hold. Measure volts first; ' +
    'an electrode is taken off its array only by qualified persons.',
} as const

/** Where the potential spike belongs for a current spike at so many metres. */
export function describeSpikePlace(currentM: number, units: Units): string {
  return `61.8 % of ${formatLength(currentM, units)} is ${formatLength(0.618 * currentM, units)}.`
}

/** What a sound loop reads. */
export function describeLoop(loopOhm: number): string {
  return Number.isFinite(loopOhm)
    ? `A sound loop reads about ${formatReadOhm(loopOhm)} here.`
    : moreTexts.noPath
}

interface Noted {
  readonly reverseOhm: number | null
  readonly leastOhm: number | null
  readonly mostOhm: number | null
  readonly testCurrentA: number | null
  readonly metalC: number | null
  readonly trackerDeg: number | null
  readonly spikes: EntryOf<'reading'>['spikesM']
  readonly note: string
  readonly photos: readonly string[]
}

/** What is filled in, in one line; empty where nothing is. */
export function describeNoted(noted: Noted, units: Units): string {
  const { reverseOhm, leastOhm, mostOhm, testCurrentA, metalC, trackerDeg, spikes, note, photos } = noted
  const count = countPhotos(photos.length)
  return [
    ...(reverseOhm === null ? [] : [`other way ${formatReadOhm(reverseOhm)}`]),
    ...(leastOhm === null || mostOhm === null
      ? []
      : [`between ${formatReadOhm(leastOhm)} and ${formatReadOhm(mostOhm)}`]),
    ...(testCurrentA === null ? [] : [`${testCurrentA} A`]),
    ...(metalC === null ? [] : [`metal ${metalC} °C`]),
    ...(trackerDeg === null ? [] : [`tracker ${trackerDeg}°`]),
    ...(spikes === null
      ? []
      : [`spikes at ${formatLength(spikes.potential, units)} and ${formatLength(spikes.current, units)}`]),
    ...(note === '' ? [] : [`note: ${printable(note)}`]),
    ...(count === null ? [] : [count]),
  ].join(', ')
}
