import type { Drawing } from '../../model/schema/drawing.ts'
import type { MaterialId } from '../../model/materials.ts'
import type { Row } from '../../model/schema/row.ts'
import { defaultGapM, defaultToleranceM } from '../tables/tableChoices.ts'
import type { Anchor } from './localPlane.ts'
import type { GeoThing, GeoThings, Shape } from './readGeoJson.ts'
import { ownValue } from './readGeoJson.ts'

/** What a thing of the file becomes. */
export type GeoKind =
  'table' | 'row' | 'conductor' | 'electrode' | 'enclosure' | 'earthBar' | 'aisle' | 'obstacle' | 'leave'

/** What each shape can become; the first is taken where nothing says otherwise. */
export const kindsOfShape: Readonly<Record<Shape, readonly GeoKind[]>> = {
  point: ['electrode', 'enclosure', 'earthBar', 'leave'],
  line: ['conductor', 'row', 'electrode', 'aisle', 'leave'],
  polygon: ['table', 'obstacle', 'leave'],
}

export interface GeoChoices {
  readonly anchor: Anchor
  /** Property whose words say what a thing is; null: the shapes alone do. */
  readonly kindProperty: string | null
  readonly point: GeoKind
  readonly line: GeoKind
  readonly polygon: GeoKind
  /** For tables and rows that name no type of the site; null where the site has none. */
  readonly type: string | null
  /** The way that tables look, clockwise from north: it tells the lower edge of an outline from the upper. */
  readonly facingDeg: number
  /** Where on its tables the line of a row is drawn. */
  readonly rowLine: 'lowerEdge' | 'middle'
  readonly gapM: number
  readonly links: Row['links']
  readonly toleranceM: number
  readonly material: MaterialId
  readonly areaMm2: number
  readonly rodLengthM: number
  readonly rodDiameterM: number
  readonly stripDiameterM: number
  readonly stripDepthM: number
  readonly enclosureWidthM: number
  readonly enclosureDepthM: number
}

const words: Readonly<Record<Exclude<GeoKind, 'leave'>, readonly string[]>> = {
  table: ['table', 'tables', 'array table', 'module table', 'tracker', 'rack', 'panel table'],
  row: ['row', 'rows', 'table row', 'tracker row'],
  conductor: [
    'conductor',
    'conductors',
    'cable',
    'wire',
    'bonding conductor',
    'earthing conductor',
    'egc',
    'gec',
  ],
  electrode: [
    'electrode',
    'electrodes',
    'rod',
    'earth rod',
    'ground rod',
    'earth electrode',
    'ground electrode',
    'strip',
    'strip electrode',
    'ring',
  ],
  enclosure: [
    'enclosure',
    'enclosures',
    'inverter',
    'combiner',
    'combiner box',
    'cabinet',
    'housing',
    'transformer',
  ],
  earthBar: ['earthbar', 'earth bar', 'earth bars', 'ground bar', 'groundbar', 'bar', 'busbar'],
  aisle: ['aisle', 'aisles', 'path', 'road', 'track', 'walkway'],
  obstacle: ['obstacle', 'obstacles', 'building', 'tree', 'pond', 'ditch', 'fence', 'keep out'],
}

const kindOfWords: ReadonlyMap<string, GeoKind> = new Map(
  Object.entries(words).flatMap(([kind, list]) => list.map((word) => [word, kind as GeoKind] as const)),
)

/** What a word of the trade stands for; null for one that is not known. */
export function kindNamed(value: unknown): GeoKind | null {
  if (typeof value !== 'string') return null
  const text = value
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()
  return kindOfWords.get(text) ?? null
}

/** What a thing becomes: by its property where that is a known word that goes with its shape, else by its shape. */
export function kindOf(thing: GeoThing, choices: GeoChoices): GeoKind {
  const named =
    choices.kindProperty === null ? null : kindNamed(ownValue(thing.properties, choices.kindProperty))
  return named !== null && kindsOfShape[thing.shape].includes(named) ? named : choices[thing.shape]
}

const guessFrom = 2_000

/** A start from what the file and the site say. The anchor is the site's, else the middle of the file. */
export function guessGeoChoices(file: GeoThings, { facts, rows, tableTypes }: Drawing): GeoChoices {
  const anchor = facts.anchor ?? file.middle ?? { latitudeDeg: 0, longitudeDeg: 0, bearingDeg: 0 }
  const last = rows.at(-1)
  return {
    anchor,
    kindProperty: guessProperty(file),
    point: kindsOfShape.point[0],
    line: kindsOfShape.line[0],
    polygon: tableTypes.length > 0 ? 'table' : 'obstacle',
    type: tableTypes[0]?.id ?? null,
    facingDeg: anchor.latitudeDeg < 0 ? 0 : 180,
    rowLine: 'lowerEdge',
    gapM: last?.gapM ?? defaultGapM,
    links: last?.links ?? { count: 0, kind: 'jumper' },
    toleranceM: defaultToleranceM,
    material: 'copper',
    areaMm2: 16,
    rodLengthM: 2.4,
    rodDiameterM: 0.016,
    stripDiameterM: 0.01,
    stripDepthM: 0.6,
    enclosureWidthM: 1,
    enclosureDepthM: 0.5,
  }
}

function guessProperty({ things, propertyNames }: GeoThings): string | null {
  let best: string | null = null
  let most = 0
  for (const name of propertyNames) {
    let known = 0
    for (const { properties } of things.slice(0, guessFrom))
      if (kindNamed(ownValue(properties, name))) known++
    if (known <= most) continue
    best = name
    most = known
  }
  return best
}
