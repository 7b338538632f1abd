import { conductorSize, type ConductorSizeId } from '../model/conductorSizes.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import type { MaterialId } from '../model/materials.ts'
import { materialIds } from '../model/materials.ts'
import type { Electrode } from '../model/schema/equipment.ts'
import { materialNames, type Fact } from './inspectText.ts'
import { countItems, nameItem } from './itemNames.ts'
import { formatOhm, formatRoughOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { capital, formatLength, inWords, type Units } from './units.ts'

/** Words of every form. */
export const formTexts = {
  readOnly: 'This site is open elsewhere and cannot be written to here.',
  nothingChosen:
    'Nothing is chosen. Choose a row, an electrode, a conductor … on the map, and its numbers stand here.',
  gone: 'This is no longer in the drawing.',
  bearing: 'clockwise from north',
  done: (label: string) => `Done: ${label}.`,
} as const

/** Name of the step that sets one field of something: `bearing of row 3`. */
export function setLabel(field: string, of: string): string {
  return `${field} of ${of}`
}

/** The metals in the words of a list. */
export const materialOptions: readonly { readonly id: MaterialId; readonly label: string }[] =
  materialIds.map((id) => ({ id, label: capital(materialNames[id]) }))

export const conductorTexts = {
  freeSize: 'Not a catalogue size',
  areaHint: 'Metal, not insulation',
  lengthHint: 'Empty: the length as drawn counts',
  notMeasured: 'not measured',
  closed: 'Closed',
  closedHint: 'It runs back to its first point.',
  end: 'an end that lands on nothing',
  bend: 'only turns here',
} as const

/** A catalogue size as it is printed on the drum: `16 mm²`, `6 AWG`. */
export function nameSize(id: ConductorSizeId): string {
  const size = conductorSize(id)
  return size.system === 'metric' ? `${size.areaMm2} mm²` : size.label
}

/** What follows from metal, area and length. */
export function conductorFacts(
  { ohmPerM, totalOhm, drawnM }: { ohmPerM: number; totalOhm: number; drawnM: number },
  ambientC: number,
  units: Units,
): Fact[] {
  const per =
    units === 'us' ? `${formatOhm(ohmPerM * 304.8)} per 1000 ft` : `${formatOhm(ohmPerM * 1000)} per km`
  return [
    { name: 'Length as drawn', value: formatLength(drawnM, units) },
    { name: 'Ohms by its length', value: `${per} at ${formatTemperature(ambientC, units)}` },
    { name: 'Ohms from end to end', value: `${formatOhm(totalOhm)}, without its lugs` },
  ]
}

export function formatTemperature(celsius: number, units: Units): string {
  return units === 'us'
    ? `${Number(((celsius * 9) / 5 + 32).toFixed(1))} °F`
    : `${Number(celsius.toFixed(1))} °C`
}

export const electrodeTexts = {
  forms: { rod: 'Rod', plate: 'Plate', strip: 'Strip', ring: 'Ring' },
  measuredHint:
    'A resistance to earth, by a test of the electrode; no bonding value. Empty: the computed one counts',
} as const

/** Ohms by form and soil, and which ohms count. */
export function electrodeFacts(electrode: Electrode, computedOhm: number | null, soilOhmM: number): Fact[] {
  const counts = electrode.measuredOhm === null ? 'This one counts.' : 'The measured one counts.'
  const computed = computedOhm === null ? 'nothing: it has no length' : formatRoughOhm(computedOhm)
  return [
    {
      name: 'Computed',
      value: `${computed}, alone in soil of ${Number(soilOhmM.toPrecision(3))} Ω·m. ${counts}`,
    },
  ]
}

export const pointTexts = {
  atLeast: (least: number) => `It keeps ${least} points or more.`,
  letGo: 'Let go: it lands here no more',
} as const

/** Names of the steps that change one point of a conductor. */
export function pointSteps(conductor: string) {
  const step = (what: string) => (number: number) => `${what} point ${number} of ${conductor}`
  return {
    place: step('place of'),
    kind: step('joint kind at'),
    letGo: step('let go at'),
    remove: step('remove'),
    insert: step('a point after'),
  }
}

/** Name of the step that takes things out of the drawing: `delete row 3`, `delete 4 rows and 1 conductor`. */
export function removalLabel(book: NameBook, items: readonly DrawnItem[]): string {
  return `delete ${items.length === 1 ? nameItem(book, items[0]) : countItems(items)}`
}

export const rowTexts = {
  linkCounts: {
    '0': 'None',
    '1': 'One, on the first long member',
    '2': 'Two, on the first and last long member',
  },
  noLinks: 'Nothing joins its tables but what is drawn besides.',
  mixed: (types: readonly string[]) => `Mixed: ${inWords(types)}`,
  gapHint: 'Clear, from frame to frame',
  startHint: 'The lower outer corner of its first table',
  oneTable: 'One table of it',
  tableNumber: 'Table, counted along the row',
  tablesHint: 'Counted from its start; changed at its end',
  outOf: (tables: number) => `1 to ${tables}`,
} as const

/** What follows from a row's tables and gap. */
export function rowFacts(
  { lengthM, pitchesM }: { lengthM: number; pitchesM: readonly number[] },
  units: Units,
): Fact[] {
  const pitch = [...new Set(pitchesM.map((pitchM) => formatPlain(pitchM, units)))]
  return [
    { name: 'Length', value: formatPlain(lengthM, units) },
    { name: 'Table to table', value: `${inWords(pitch)} from start to start` },
  ]
}

/** A length to the millimetre or the hundredth of a foot, for what one lays out by tape. */
export function formatPlain(lengthM: number, units: Units): string {
  return units === 'us' ? `${Number((lengthM / 0.3048).toFixed(2))} ft` : `${Number(lengthM.toFixed(3))} m`
}

/** Names of the steps that change one table of a row. */
export const tableSteps = {
  before: (table: string, row: string) => `a table before ${table} of ${row}`,
  after: (table: string, row: string) => `a table after ${table} of ${row}`,
  remove: (table: string, row: string) => `remove ${table} of ${row}`,
  type: (table: string, row: string) => `type of ${table} of ${row}`,
  label: (table: string, row: string) => `label of ${table} of ${row}`,
} as const

export const severalTexts = {
  handle: 'Move, turn, copy',
  turnHint: 'About the middle of what is chosen',
  noWay: 'Type how far.',
  noPitch: 'Type how far each copy stands from the one before.',
  threeNeeded: 'Space is shared out between three things or more.',
  align: 'Bring into line',
  space: 'Equal space between them',
  edges: {
    left: 'West sides',
    centreAcross: 'Middles, on one north–south line',
    right: 'East sides',
    top: 'North sides',
    centreUp: 'Middles, on one east–west line',
    bottom: 'South sides',
  },
} as const

/** Names of steps with what is chosen: a row by its name, several by their number. */
export const severalSteps = {
  move: (what: string) => `move ${what}`,
  turn: (what: string) => `turn ${what}`,
  copy: (what: string, times: number) => `copy ${what}${times === 1 ? '' : `, ${times} times`}`,
  align: (what: string) => `bring ${what} into line`,
  space: (what: string) => `equal space between ${what}`,
} as const
