import { conductorSize, type ConductorSizeId } from '../model/conductorSizes.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import type { MaterialId } from '../model/materials.ts'
import { materialIds } from '../model/materials.ts'
import type { Electrode } from '../model/schema/equipment.ts'
import { materialNames, type Fact } from './inspectText.ts'
import { countItems, nameItem } from './itemNames.ts'
import { formatOhm, formatRoughOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { capital, formatLength, type Units } from './units.ts'

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
  asDrawn: (lengthM: number, units: Units) => `${formatLength(lengthM, units)} as drawn`,
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
