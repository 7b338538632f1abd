import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { wholeText } from '../../src/files/exportPiece.ts'
import { canImport } from '../../src/files/importPlan.ts'
import { guessGeoChoices, kindNamed, type GeoChoices } from '../../src/files/geo/geoChoices.ts'
import { localPlane } from '../../src/files/geo/localPlane.ts'
import { planGeo } from '../../src/files/geo/planGeo.ts'
import { readGeoJson, type GeoThings } from '../../src/files/geo/readGeoJson.ts'
import { countFeatures, writeGeoJson } from '../../src/files/geo/writeGeoJson.ts'
import { drawnTables } from '../../src/files/tables/writeTables.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { addDrawn, noItems } from '../../src/model/edits/addDrawn.ts'
import { changeFacts } from '../../src/model/edits/facts.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { problemLine } from '../../src/text/problems.ts'
import { deepFreeze } from '../model/deepFreeze.ts'
import { exampleSite, fixedTilt, tracker, uuid } from '../model/exampleSite.ts'

const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'x', units: 'metric' })
const site: Site = deepFreeze({ ...empty, drawing: { ...empty.drawing, tableTypes: [fixedTilt, tracker] } })
const anchor = { latitudeDeg: 48.2, longitudeDeg: 11.5, bearingDeg: 0 }
const plane = localPlane(anchor)

const bytesOf = (text: string) => new TextEncoder().encode(text)
const readText = (text: string) => wholly(readGeoJson(bytesOf(text)))

function fileOf(text: string): GeoThings {
  const read = readText(text)
  if (!read.ok) throw new Error(problemLine(read.error[0]))
  return read.value
}

const indexOf = (of: Site) => {
  const index = indexSite(of.drawing)
  if (!index.ok) throw new Error(JSON.stringify(index.error))
  return index.value
}

const position = (x: number, y: number) => {
  const { latitudeDeg, longitudeDeg } = plane.toGeographic({ x, y })
  return [longitudeDeg, latitudeDeg]
}

const feature = (type: string, coordinates: unknown, properties: unknown = {}) => ({
  type: 'Feature',
  geometry: { type, coordinates },
  properties,
})

function plan(features: readonly unknown[], changes: Partial<GeoChoices> = {}, at = site) {
  const file = fileOf(JSON.stringify({ type: 'FeatureCollection', features }))
  return wholly(planGeo(file, { ...guessGeoChoices(file, at.drawing), anchor, ...changes }, at.drawing))
}

const says = (found: { readonly troubles: readonly Parameters<typeof problemLine>[0][] }) =>
  found.troubles.map((one) => problemLine(one))

describe('documents', () => {
  it.each([
    ['', 'file.empty'],
    ['{', 'file.notJson'],
    ['[1,2]', 'file.notGeoJson'],
    ['"Point"', 'file.notGeoJson'],
    ['{"type":"Circle","coordinates":[1,2]}', 'file.notGeoJson'],
    ['{"type":"FeatureCollection"}', 'file.notGeoJson'],
    ['{"type":"constructor"}', 'file.notGeoJson'],
    ['{"type":"Point","type":"Point","coordinates":[1,2]}', 'reference.duplicateId'],
    ['['.repeat(100) + ']'.repeat(100), 'size.tooMany'],
    [`{"type":"GeometryCollection","geometries":${'['.repeat(100)}${']'.repeat(100)}}`, 'size.tooMany'],
  ])('%.40s is refused as %s', (text, code) => {
    expect(readText(text)).toMatchObject({ ok: false, error: [{ code }] })
  })

  it('that are bytes, or huge, are refused', () => {
    expect(wholly(readGeoJson(new Uint8Array([0xff, 0xd8, 0])))).toMatchObject({
      error: [{ code: 'file.notText' }],
    })
    expect(wholly(readGeoJson(new Uint8Array(64 * 1024 ** 2 + 1)))).toMatchObject({
      error: [{ code: 'file.tooLarge' }],
    })
    const many = `{"type":"MultiPoint","coordinates":[${'[1,2],'.repeat(200_001)}[1,2]]}`
    expect(readText(many)).toMatchObject({ error: [{ code: 'size.tooMany' }] })
  })

  it.each([
    [
      ['Point', [1]],
      'features › 1st › geometry › coordinates: Expected a position [longitude, latitude] in degrees',
    ],
    [['Point', ['1', '2']], 'Expected a position'],
    [['Point', [null, 2]], 'Expected a position'],
    [['Point', [11, 95]], 'longitude first'],
    [['Point', [512345.6, 4649776.2]], 'not metres of a map grid'],
    [['Point', {}], 'found an object'],
    [['LineString', [[1, 2]]], 'Expected 2 positions or more; found “1”'],
    [['Polygon', []], 'Expected a list of rings; found an empty list'],
    [
      [
        'Polygon',
        [
          [
            [0, 0],
            [1, 0],
            [1, 1],
            [0, 1],
          ],
        ],
      ],
      'whose last position is its first',
    ],
    [['Blob', []], 'Expected a geometry of RFC 7946; found “Blob”'],
    [['__proto__', []], 'Expected a geometry of RFC 7946'],
  ] as const)('%j is told with its place', ([type, coordinates], sentence) => {
    const found = plan([feature(type, coordinates), feature('Point', position(1, 1))])
    expect([found.wrong, found.total]).toEqual([1, 2])
    expect(says(found)[0]).toContain(sentence)
    expect(says(found)[0]).toContain('features › 1st')
    expect(found.items.electrodes).toHaveLength(1)
  })

  it('with numbers beyond any are told', () => {
    const file = fileOf('{"type":"Point","coordinates":[1e999,2]}')
    expect([file.wrong, file.things]).toEqual([1, []])
  })
})

describe('what things become', () => {
  it.each([
    ['ground rod', 'electrode'],
    ['EarthBar', 'earthBar'],
    ['Inverter', 'enclosure'],
    ['keep-out', 'obstacle'],
    ['constructor', null],
    [7, null],
  ])('%s is %s', (word, kind) => {
    expect(kindNamed(word)).toBe(kind)
  })

  it('goes by a property with known words, else by the shape', () => {
    const found = plan(
      [
        feature('Point', position(0, 0), { layer: 'Earth bar', label: 'MEB' }),
        feature('Point', position(1, 0), { layer: 'Inverter', widthM: 2, depthM: 1, bearing: 30 }),
        feature('Point', position(2, 0), { layer: 'rod', lengthM: '3' }),
        feature('Point', position(3, 0), { layer: '?' }),
        feature('LineString', [position(0, 0), position(10, 0)], {
          layer: 'cable',
          areaMm2: 25,
          material: 'tinned-copper',
        }),
        feature('LineString', [position(0, 5), position(10, 5)], { layer: 'strip' }),
        feature('LineString', [position(0, 9), position(10, 9)], { layer: 'road' }),
        feature('Polygon', [[position(0, 0), position(9, 0), position(9, 9), position(0, 0)]], {
          layer: 'pond',
          name: 'Pond',
        }),
        { type: 'Feature', geometry: null, properties: null },
      ],
      { point: 'leave' },
    )
    expect(says(found)).toEqual([])
    const { items } = found
    expect(items.earthBars[0].label).toBe('MEB')
    expect(items.enclosures[0]).toMatchObject({ widthM: 2, depthM: 1, bearingDeg: 30 })
    expect(items.electrodes.map((one) => [one.form, 'lengthM' in one ? one.lengthM : null])).toEqual([
      ['rod', 3],
      ['strip', null],
    ])
    expect(items.conductors[0]).toMatchObject({ areaMm2: 25, material: 'tinned-copper' })
    expect([items.aisles.length, items.obstacles[0].name]).toEqual([1, 'Pond'])
    expect(found.passedOver).toBe(2)
    expect(canImport(site, found)).toBe(true)
    const added = addDrawn(items)(site)
    expect(added.drawing.facts.anchor).toEqual(anchor)
    expect(added.drawing.nextIds).toMatchObject({ earthBar: 2, electrode: 3, conductor: 2 })
  })

  it('rows are lines: tables by count, by pitch, or as many as fit', () => {
    const line = (properties: object) =>
      feature('LineString', [position(0, 0), position(30, 0)], { kind: 'row', ...properties })
    const found = plan(
      [line({ tables: 6 }), line({ pitchM: 5 }), line({}), line({ tables: 9 }), line({ gap: -2 })],
      { gapM: 0.5 },
    )
    expect(
      found.items.rows.map(({ runs, gapM, bearingDeg }) => [
        runs[0].count,
        Number(gapM.toFixed(4)),
        Math.round(bearingDeg),
      ]),
    ).toEqual([
      [6, 0.648, 90],
      [6, 0.54, 90],
      [6, 0.5, 90],
    ])
    expect(says(found)).toEqual([
      'features › 4th › geometry › coordinates: Expected a line of 40.14 m or more for 9 tables; found 30 m. Put in a value of that sort.',
      'features › 5th › geometry › coordinates: Expected a gap between tables of 0 to 1000 m; found -2 m. Put in a value of that sort.',
    ])
    const bent = feature('LineString', [position(0, 0), position(9, 3), position(20, 0)], { kind: 'row' })
    expect(says(plan([bent]))[0]).toContain('a straight line for each row')
    const [middle] = plan([line({ tables: 1 })], { rowLine: 'middle' }).items.rows
    expect(middle.originM.y).toBeCloseTo(-((2 * 2.2 + 0.02) * Math.cos(Math.PI / 9)) / 2, 6)
  })

  it('outlines of tables need the size of the type, and the way that they face tells the lower edge', () => {
    const [along, up] = [4.46, (2 * 2.2 + 0.02) * Math.cos(Math.PI / 9)]
    const ring = [position(0, 0), position(along, 0), position(along, up), position(0, up), position(0, 0)]
    const table = feature('Polygon', [ring.toReversed()], { kind: 'table' })
    const south = plan([table], { facingDeg: 180 }).items.rows[0]
    expect(south.bearingDeg).toBeCloseTo(90, 4)
    expect(Math.hypot(south.originM.x, south.originM.y)).toBeLessThan(0.001)
    const north = plan([table], { facingDeg: 0 }).items.rows[0]
    expect(north.bearingDeg).toBeCloseTo(270, 4)
    expect(Math.hypot(north.originM.x - along, north.originM.y - up)).toBeLessThan(0.001)
    const wrong = plan([table], { type: 'tracker' })
    expect(says(wrong)[0]).toContain(
      "an outline of 5.58 m by 2.2 m as seen from above, the table type's size; found 4.46 m by 4.15 m",
    )
    const round = feature('Polygon', [[position(0, 0), position(5, 2), position(1, 7), position(0, 0)]], {
      kind: 'table',
    })
    expect(says(plan([round]))[0]).toContain('another form')
    expect(says(plan([table], { type: null }, empty))[0]).toContain('a table type of this site')
  })

  it('a place too far from the site is told, on the other side of the earth too', () => {
    const found = plan([feature('Point', [12.9, 48.2]), feature('Point', [-168.5, -48.2])])
    expect(found.wrong).toBe(2)
    expect(says(found)[0]).toContain('at most 100 km from that of the site')
  })

  it('labels with markup and turned writing stay text of one line', () => {
    const { items } = plan([
      feature('Point', position(0, 0), { kind: 'bar', name: '<b>\u202e\nx</b>\ud800' }),
    ])
    expect(items.earthBars[0].label).toBe('<b> x</b>')
  })
})

describe('there and back', () => {
  const back = (drawn: Site, at: NonNullable<Site['drawing']['facts']['anchor']>) => {
    const text = wholeText(writeGeoJson(indexOf(drawn), at))
    const file = fileOf(text)
    expect(file.total).toBe(countFeatures(indexOf(drawn)))
    const based = changeFacts({ anchor: at })(site)
    const found = wholly(
      planGeo(file, { ...guessGeoChoices(file, based.drawing), toleranceM: 0.001 }, based.drawing),
    )
    expect(says(found)).toEqual([])
    expect(canImport(based, found)).toBe(true)
    return addDrawn(found.items)(based)
  }

  it('the example site comes back, every place to the millimetre', () => {
    const drawn = exampleSite()
    const at = { latitudeDeg: -33.4, longitudeDeg: 179.9999, bearingDeg: 17 }
    const { drawing } = back(drawn, at)
    const rounded = (value: unknown): unknown =>
      JSON.parse(
        JSON.stringify(value, (_, each: unknown) =>
          typeof each === 'number' ? Math.round(each * 500) / 500 + 0 : each,
        ),
      )
    expect(rounded(drawing.enclosures)).toEqual(rounded(drawn.drawing.enclosures))
    expect(rounded(drawing.earthBars)).toEqual(rounded(drawn.drawing.earthBars))
    expect(rounded(drawing.electrodes)).toEqual(rounded(drawn.drawing.electrodes))
    expect(rounded(drawing.aisles)).toEqual(rounded(drawn.drawing.aisles))
    expect(rounded(drawing.obstacles)).toEqual(rounded(drawn.drawing.obstacles))
    const ways = (of: Site['drawing']) =>
      of.conductors.map(({ points, closed }) => [closed, points.map(({ atM }) => atM)])
    expect(rounded(ways(drawing))).toEqual(rounded(ways(drawn.drawing)))
  })

  it('any rows at any place and bearing: every corner of every table to the millimetre', () => {
    const anyRow = fc.record({
      x: fc.double({ min: -4000, max: 4000, noNaN: true }),
      y: fc.double({ min: -4000, max: 4000, noNaN: true }),
      bearingDeg: fc.double({ min: 0, max: 359.99, noNaN: true }),
      gapM: fc.double({ min: 0, max: 3, noNaN: true }),
      type: fc.constantFrom('fixed', 'tracker'),
      count: fc.integer({ min: 1, max: 30 }),
    })
    const anyAnchor = fc.record({
      latitudeDeg: fc.double({ min: -70, max: 70, noNaN: true }),
      longitudeDeg: fc.double({ min: -180, max: 180, noNaN: true }),
      bearingDeg: fc.double({ min: 0, max: 359, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 5 }), anyAnchor, (rows, at) => {
        const drawn = addDrawn({
          ...noItems,
          rows: rows.map(({ x, y, bearingDeg, gapM, type, count }, k) => ({
            label: `${k}`,
            originM: { x, y },
            bearingDeg,
            gapM,
            runs: [{ count, type }],
            links: { count: 0, kind: 'jumper' },
            tableLabels: {},
          })),
        })(site)
        const corners = (of: Site) =>
          [...drawnTables(indexOf(of))].map(({ rowLabel, x, y, along, up }) => ({
            row: rowLabel.replace(/ \(\d+\)$/, ''),
            x,
            y,
            ex: x + along.x + up.x,
            ey: y + along.y + up.y,
          }))
        const [one, other] = [corners(drawn), corners(back(drawn, at))]
        expect(other.length).toBe(one.length)
        for (const corner of one) {
          const nearest = other
            .filter(({ row }) => row === corner.row)
            .map(({ x, y, ex, ey }) =>
              Math.max(Math.hypot(x - corner.x, y - corner.y), Math.hypot(ex - corner.ex, ey - corner.ey)),
            )
          expect(Math.min(...nearest)).toBeLessThan(0.001)
        }
      }),
      { seed: 5, numRuns: 60 },
    )
  })
})
