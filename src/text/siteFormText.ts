import type { JointKind } from '../model/schema/jointKind.ts'
import type { PartKind } from '../model/schema/planning.ts'
import { formatOhm } from './ohms.ts'
import { formatRate } from './units.ts'
import { printable } from './where.ts'
import type { Words } from './words.ts'

export const siteFormTexts = {
  units: { metric: 'Metres, mm², °C', us: 'Feet, AWG, °F' },
  unitsHint: 'How lengths are shown. Either is read: 12 ft or 3.6 m.',
  soil: 'Soil resistivity',
  soilHint: 'Counts for every electrode and post without a measured value',
  soilSource: 'Where this is from',
  ambient: 'Temperature of the metal',
  ambientHint: 'Where an entry gives none',
  mostVolts: 'Most volts before ohms',
  mostVoltsHint: 'Above this, between the clips or to earth, no ohms are entered at a set-up',
  drawingRevision: 'Revision of the drawing',
  drawingRevisionHint: 'As its sheet calls it, such as E-101 rev B',
  place: 'Geographic place',
  placeAbout: 'Of the point 0, 0 of the plan. For bringing in and taking out geographic files.',
  latitudeHint: 'South is negative',
  longitudeHint: 'West is negative',
  north: 'Bearing of the plan’s y axis',
  northHint: 'Clockwise from true north',
  removePlace: 'Take the place away',
  placeStep: 'geographic place',
  noPlaceStep: 'take the geographic place away',
  access: 'Access to parts',
  accessAbout:
    'What a probe can reach and what it meets there. What cannot be reached is not proposed for readings.',
  reachable: 'Can be reached',
  surfaces: { bare: 'Bare metal', coated: 'Coated: the probe has to pierce it' },
  catalogue: 'Joint catalogue',
  catalogueAbout:
    'What a sound joint of each kind has, how far they scatter, and how many are bad in a new array. ' +
    'The figures at first are judgement from memory: change them to what your own readings show.',
  median: 'Median of sound joints',
  computed: 'Follows from metal, size and length, or from soil',
  spread: 'Spread',
  spreadHint: 'Two in three lie within this factor of the median',
  defects: 'Bad when new',
  purposes: { relied: 'Relied on: it is there to bond', incidental: 'Incidental: it happens to conduct' },
  addKind: 'New kind',
  newKind: 'new kind',
  paths: 'Metal paths drawn by themselves',
  pathsAbout:
    'Fences, trays, shafts: a joint between two parts that no pattern describes. Draw them on the map.',
  noPaths: 'There is none so far.',
  ownOhm: 'Ohms',
  ownOhmHint: 'Empty: those of its kind',
} as const

/** A kind of the catalogue in one line: `0.8 mΩ, within × 1.5, 0.7 % bad when new`. */
export function describeKind({ medianOhm, lnSpread, defectRate }: JointKind): string {
  const median = medianOhm === null ? 'computed' : formatOhm(medianOhm)
  return `${median}, within × ${Number(Math.exp(lnSpread).toFixed(2))}, ${formatRate(defectRate)} bad when new`
}

/** Name of a kind in a step: `spread of “jumper”`. */
export function nameOfKind({ name, id }: JointKind): string {
  return printable(name).trim() || id
}

/** What the parts of a kind are called. */
export function partKindWords(words: Words): Readonly<Record<PartKind, string>> {
  return {
    frame: 'Module frames',
    longMember: 'Rails and tubes',
    crossMember: 'Cross members',
    post: 'Posts',
    enclosure: 'Enclosures',
    earthBar: `${words.earthBar[0].toUpperCase()}${words.earthBar.slice(1)}s`,
    electrode: `${words.electrode[0].toUpperCase()}${words.electrode.slice(1)}s`,
    conductorEnd: 'Ends and landings of conductors',
  }
}
