/** What a column of a list of rows or tables may say. */
export const columnRoles = ['row', 'label', 'x', 'y', 'bearing', 'tables', 'gap', 'pitch', 'type'] as const
export type ColumnRole = (typeof columnRoles)[number]

/** For each role the number of its column, from 0; −1 where the file has none. */
export type Columns = Readonly<Record<ColumnRole, number>>

export type LengthUnit = 'm' | 'ft' | 'usFt'
/** The international foot, and the foot of US surveys: 1200/3937 m (Federal Register 24 FR 5348, 1959; from memory). */
export const metresPer: Readonly<Record<LengthUnit, number>> = { m: 1, ft: 0.3048, usFt: 1200 / 3937 }

// in the order of how surely a word says it
const words: Readonly<Record<ColumnRole, readonly string[]>> = {
  row: ['row', 'row label', 'row id', 'row name', 'row no', 'row number', 'line', 'string row'],
  label: [
    'label',
    'table',
    'table label',
    'table id',
    'table name',
    'table no',
    'tracker',
    'name',
    'id',
    'no',
    'number',
    'point',
  ],
  x: [
    'x',
    'east',
    'easting',
    'e',
    'x east',
    'start x',
    'x start',
    'x corner',
    'center x',
    'centre x',
    'x center',
    'x centre',
    'x coordinate',
    'coord x',
  ],
  y: [
    'y',
    'north',
    'northing',
    'n',
    'y north',
    'start y',
    'y start',
    'y corner',
    'center y',
    'centre y',
    'y center',
    'y centre',
    'y coordinate',
    'coord y',
  ],
  bearing: ['bearing', 'direction', 'heading', 'azimuth', 'facing', 'orientation', 'angle', 'rotation'],
  tables: [
    'tables',
    'count',
    'table count',
    'number of tables',
    'no of tables',
    'qty',
    'quantity',
    'n tables',
  ],
  gap: ['gap', 'table gap', 'spacing', 'clear distance', 'clearance'],
  pitch: ['pitch', 'table pitch', 'step', 'centre to centre', 'center to center', 'c c'],
  type: ['type', 'table type', 'kind', 'model', 'configuration'],
}

/** `X_East (ft)` → `x east`: letters and digits only, without what says a unit. */
export function headerWords(header: string): string {
  return header
    .normalize('NFKD')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[\p{M}]/gu, '')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .split(' ')
    .filter((word) => word !== '' && !unitWords.has(word))
    .join(' ')
}

const unitWords = new Set([
  'm',
  'metre',
  'metres',
  'meter',
  'meters',
  'ft',
  'feet',
  'foot',
  'usft',
  'us',
  'survey',
  'intl',
  'deg',
  'degree',
  'degrees',
])

/** Takes each header for the role that its words say best; each column has one role at most, the first of two alike. */
export function guessColumns(header: readonly string[]): Columns {
  const found: Record<ColumnRole, number> = {
    row: -1,
    label: -1,
    x: -1,
    y: -1,
    bearing: -1,
    tables: -1,
    gap: -1,
    pitch: -1,
    type: -1,
  }
  const texts = header.map(headerWords)
  const taken = new Set<number>()
  const deepest = Math.max(...columnRoles.map((role) => words[role].length))
  for (let depth = 0; depth < deepest; depth++) {
    for (const role of columnRoles) {
      const word = words[role][depth]
      const at =
        word === undefined || found[role] >= 0
          ? -1
          : texts.findIndex((text, k) => text === word && !taken.has(k))
      if (at < 0) continue
      found[role] = at
      taken.add(at)
    }
  }
  return found
}

/** The unit that headers of places and lengths name; null where they name none. */
export function guessUnit(header: readonly string[], columns: Columns): LengthUnit | null {
  const named = (['x', 'y', 'gap', 'pitch'] as const).map((role) => header[columns[role]] ?? '').join(' ')
  if (/us[\s_-]*(survey[\s_-]*)?(ft|feet|foot)/i.test(named)) return 'usFt'
  if (/(^|[^a-z])(ft|feet|foot)([^a-z]|$)/i.test(named)) return 'ft'
  return /(^|[^a-z])(m|met(re|er)s?)([^a-z]|$)/i.test(named) ? 'm' : null
}
