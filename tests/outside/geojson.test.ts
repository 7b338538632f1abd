import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { readGeoJson, type GeoThings } from '../../src/files/geo/readGeoJson.ts'

// The examples of RFC 7946 (August 2016): section 1.5 and appendix A. Their coordinates are from memory.

const read = (document: unknown) => wholly(readGeoJson(new TextEncoder().encode(JSON.stringify(document))))

function thingsOf(document: unknown): GeoThings {
  const read1 = read(document)
  if (!read1.ok) throw new Error(JSON.stringify(read1.error))
  expect(read1.value.troubles).toEqual([])
  return read1.value
}

const placesIn = ({ things }: GeoThings) =>
  things.map(({ shape, places }) => [
    shape,
    places.map(({ longitudeDeg, latitudeDeg }) => [longitudeDeg, latitudeDeg]),
  ])

describe('RFC 7946, section 1.5', () => {
  const example = {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        geometry: { type: 'Point', coordinates: [102.0, 0.5] },
        properties: { prop0: 'value0' },
      },
      {
        type: 'Feature',
        geometry: {
          type: 'LineString',
          coordinates: [
            [102.0, 0.0],
            [103.0, 1.0],
            [104.0, 0.0],
            [105.0, 1.0],
          ],
        },
        properties: { prop0: 'value0', prop1: 0.0 },
      },
      {
        type: 'Feature',
        geometry: {
          type: 'Polygon',
          coordinates: [
            [
              [100.0, 0.0],
              [101.0, 0.0],
              [101.0, 1.0],
              [100.0, 1.0],
              [100.0, 0.0],
            ],
          ],
        },
        properties: { prop0: 'value0', prop1: { this: 'that' } },
      },
    ],
  }

  it('a collection with a point, a line and a polygon', () => {
    const found = thingsOf(example)
    expect(placesIn(found)).toEqual([
      ['point', [[102, 0.5]]],
      [
        'line',
        [
          [102, 0],
          [103, 1],
          [104, 0],
          [105, 1],
        ],
      ],
      [
        'polygon',
        [
          [100, 0],
          [101, 0],
          [101, 1],
          [100, 1],
        ],
      ],
    ])
    expect(found.things.map(({ number }) => number)).toEqual([1, 2, 3])
    expect(found.propertyNames).toEqual(['prop0', 'prop1'])
    expect(found.middle).toEqual({ latitudeDeg: 0.5, longitudeDeg: 102.5, bearingDeg: 0 })
  })
})

describe('RFC 7946, appendix A', () => {
  it('A.1 point', () => {
    expect(placesIn(thingsOf({ type: 'Point', coordinates: [100.0, 0.0] }))).toEqual([['point', [[100, 0]]]])
  })

  it('A.2 line string', () => {
    const line = [
      [100.0, 0.0],
      [101.0, 1.0],
    ]
    expect(placesIn(thingsOf({ type: 'LineString', coordinates: line }))).toEqual([['line', line]])
  })

  const outer = [
    [100.0, 0.0],
    [101.0, 0.0],
    [101.0, 1.0],
    [100.0, 1.0],
    [100.0, 0.0],
  ]
  const hole = [
    [100.8, 0.8],
    [100.8, 0.2],
    [100.2, 0.2],
    [100.2, 0.8],
    [100.8, 0.8],
  ]

  it('A.3 polygons, without holes and with holes: the outer ring counts, the hole is told', () => {
    const plain = thingsOf({ type: 'Polygon', coordinates: [outer] })
    const holed = thingsOf({ type: 'Polygon', coordinates: [outer, hole] })
    expect(placesIn(plain)).toEqual([['polygon', outer.slice(0, 4)]])
    expect(placesIn(holed)).toEqual(placesIn(plain))
    expect([plain.holes, holed.holes]).toEqual([0, 1])
  })

  it('A.4 multi point', () => {
    const points = [
      [100.0, 0.0],
      [101.0, 1.0],
    ]
    expect(placesIn(thingsOf({ type: 'MultiPoint', coordinates: points }))).toEqual(
      points.map((at) => ['point', [at]]),
    )
  })

  it('A.5 multi line string', () => {
    const lines = [
      [
        [100.0, 0.0],
        [101.0, 1.0],
      ],
      [
        [102.0, 2.0],
        [103.0, 3.0],
      ],
    ]
    expect(placesIn(thingsOf({ type: 'MultiLineString', coordinates: lines }))).toEqual(
      lines.map((line) => ['line', line]),
    )
  })

  it('A.6 multi polygon', () => {
    const first = [
      [102.0, 2.0],
      [103.0, 2.0],
      [103.0, 3.0],
      [102.0, 3.0],
      [102.0, 2.0],
    ]
    const found = thingsOf({ type: 'MultiPolygon', coordinates: [[first], [outer, hole]] })
    expect(placesIn(found)).toEqual([
      ['polygon', first.slice(0, 4)],
      ['polygon', outer.slice(0, 4)],
    ])
    expect(found.holes).toBe(1)
  })

  it('A.7 geometry collection', () => {
    const found = thingsOf({
      type: 'GeometryCollection',
      geometries: [
        { type: 'Point', coordinates: [100.0, 0.0] },
        {
          type: 'LineString',
          coordinates: [
            [101.0, 0.0],
            [102.0, 1.0],
          ],
        },
      ],
    })
    expect(found.things.map(({ shape, number }) => [shape, number])).toEqual([
      ['point', 1],
      ['line', 1],
    ])
  })
})

describe('what RFC 7946 says besides', () => {
  it('3.1.1: a position may have a height, which is left out', () => {
    expect(placesIn(thingsOf({ type: 'Point', coordinates: [10, 20, 300] }))).toEqual([['point', [[10, 20]]]])
  })

  it('3.1.6: rings of either direction are taken', () => {
    const ring = [
      [0, 0],
      [0, 1],
      [1, 1],
      [0, 0],
    ]
    expect(thingsOf({ type: 'Polygon', coordinates: [ring] }).things[0].places).toHaveLength(3)
  })

  it('3.1.6: a ring is closed and has four positions or more', () => {
    const open = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [0, 1],
          [1, 1],
          [1, 0],
        ],
      ],
    }
    const short = {
      type: 'Polygon',
      coordinates: [
        [
          [0, 0],
          [0, 1],
          [0, 0],
        ],
      ],
    }
    for (const ring of [open, short]) expect(read(ring)).toMatchObject({ value: { wrong: 1, things: [] } })
  })

  it('3.2: a feature without a place has a geometry of null', () => {
    const found = thingsOf({ type: 'Feature', geometry: null, properties: null })
    expect([found.unlocated, found.things]).toEqual([1, []])
  })

  it('4: a reference system of its own, which editions before had, is told', () => {
    const system = (name: string) => ({ type: 'name', properties: { name } })
    const at = { type: 'Point', coordinates: [1, 2] }
    expect(thingsOf({ ...at, crs: system('urn:ogc:def:crs:EPSG::25832') }).namesOtherSystem).toBe(true)
    expect(thingsOf({ ...at, crs: system('urn:ogc:def:crs:OGC:1.3:CRS84') }).namesOtherSystem).toBe(false)
  })

  it('7: foreign members are passed over', () => {
    expect(thingsOf({ type: 'Point', coordinates: [1, 2], title: 'x', centreline: {} }).things).toHaveLength(
      1,
    )
  })
})
