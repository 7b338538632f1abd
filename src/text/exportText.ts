import { formatCounted } from './units.ts'

export const exportTexts = {
  title: 'Export',
  begin:
    'Everything is made on this device and handed to the browser as a file. The site itself, with its readings, is saved ' +
    'under Sites.',
  noSite: 'no site is open; open or begin one under Sites',
  noPlace: 'say first where the drawing lies',
  noTables: 'no tables are drawn',
  noJoints: 'no joints are drawn',
  nothing: 'nothing is drawn',
  noMap: 'the map is not shown',
  readOnly: 'another tab holds this site, so its place cannot be set here',
  faulty: 'the drawing has a fault',
  busy: 'another file is being made',
  place:
    'GeoJSON is longitude and latitude, and the drawing has no place on earth yet. Put in those of its origin, x 0 and y 0; ' +
    'they become part of the site.',
  placeLabel: 'Place of the site',
  setPlace: 'Set the place',
  placeMissing: 'latitude and longitude are needed',
  geojson: 'Site as GeoJSON',
  geojsonAbout:
    'Tables as outlines, equipment, conductors, aisles and obstacles, WGS 84. For maps and planning; it can be imported again.',
  tables: 'Tables as CSV',
  tablesAbout:
    'One line a table: address, row, label, place of its lower corner, bearing, type. It can be imported again.',
  joints: 'Joints as CSV',
  jointsAbout:
    'One line a joint as designed: address, kind, its two parts, median of sound joints in milliohm, spread of its logarithm, place.',
  svg: 'Map as SVG',
  png: 'Map as PNG',
  pictureAbout:
    'What the map shows now, with legend, scale, north and caution. Show the whole site first if all of it is meant.',
  scale: 'Size of the PNG',
  report: 'Report, blank test sheet',
  reportAbout: 'Pages to look at, and to print or save as PDF by the browser.',
  making: 'Making the file',
  stop: 'Stop',
  stopped: 'Stopped. No file was made.',
  noPicture: 'The browser could not make a picture of this size. Take a smaller one.',
} as const

export const readingsExportTexts = {
  name: 'Readings as CSV',
  about:
    'One line a reading: both ends, ohms, instrument, time, note, and what is said of it now. Withdrawn ones and corrections are ' +
    'marked. It can be imported again under Measure.',
  none: 'no readings are recorded',
  which: 'Which readings',
  all: 'all readings',
  look: 'those that look',
  mark: 'Begin with a byte order mark, for spreadsheets',
} as const

/** What a reading is against the levels of its criterion. */
export const criterionVerdicts = {
  within: 'within its levels',
  investigate: 'above the level to investigate',
  reject: 'above the level to reject',
} as const

export const pngScales = [
  { id: '1', label: 'as on the page' },
  { id: '2', label: 'twice as large' },
  { id: '3', label: 'three times as large' },
] as const

/** `4,800 lines, about 320 KB`. */
export function describeSize(count: number, what: 'line' | 'feature', bytes: number): string {
  return `${formatCounted(count, what)}, about ${sizeText(bytes)}.`
}

function sizeText(bytes: number): string {
  if (bytes < 1_000_000) return `${Math.max(Math.round(bytes / 1000), 1)} KB`
  return `${Number((bytes / 1_000_000).toPrecision(2))} MB`
}

/** The button's name, read with what it is about. */
export function saveLabel(what: string): string {
  return `Save ${what}`
}

export function describeExported(fileName: string): string {
  return `Handed to the browser as ${fileName}: look for it among your downloads.`
}
