import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import { limits } from '../../src/model/limits.ts'
import type { Problem } from '../../src/model/problem.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { exampleSite, tracker } from '../model/exampleSite.ts'

const bytesOf = (text: string) => new TextEncoder().encode(text)
const saved = saveSite(exampleSite())

function problemsOf(content: string | Uint8Array): readonly Problem[] {
  const opened = openSite(typeof content === 'string' ? bytesOf(content) : content, 'x.json')
  return opened.ok ? [] : opened.error
}

/** The example site as plain JSON with a change made to it, as text. */
function changed(change: (site: Record<string, never>) => void): string {
  const plain = JSON.parse(saved) as Record<string, never>
  change(plain)
  return JSON.stringify(plain)
}
type Any = Record<string, Record<string, Record<string, unknown>[]>>
const inDrawing = (change: (drawing: Record<string, Record<string, unknown>[]>) => void) =>
  changed((site) => change((site as unknown as Any).drawing))

describe('opening a site file', () => {
  it('gives the site, with or without a byte order mark, in whatever layout and key order', () => {
    for (const text of [
      saved,
      `\uFEFF${saved}`,
      JSON.stringify(JSON.parse(saved)),
      saved.replaceAll('\n', '\r\n'),
    ]) {
      const opened = openSite(bytesOf(text), 'x.json')
      expect(opened.ok && opened.value).toEqual(exampleSite())
    }
    const turn = (value: unknown): unknown => {
      if (typeof value !== 'object' || value === null) return value
      if (Array.isArray(value)) return value.map(turn)
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([k, v]) => [k, turn(v)]),
      )
    }
    const turned = openSite(bytesOf(JSON.stringify(turn(JSON.parse(saved)))), 'x.json')
    expect(turned.ok && saveSite(turned.value)).toBe(saved)
  })

  it('gives a site that nothing can change in place', () => {
    const opened = openSite(bytesOf(saved), 'x.json')
    if (!opened.ok) throw new Error('refused')
    const site = opened.value as unknown as { drawing: { rows: { label: string }[] }; record: unknown[] }
    expect(() => (site.drawing.rows[0].label = 'x')).toThrow(TypeError)
    expect(() => site.record.push({})).toThrow(TypeError)
  })

  it('keeps markup and odd letters in names as the text they are', () => {
    const name = '<img src=x onerror=alert(1)> “Å” \u2028 \u202E 🙂 \\ " \u0000'
    const site: Site = { ...exampleSite(), name }
    const opened = openSite(bytesOf(saveSite(site)), 'x.json')
    expect(opened.ok && opened.value.name).toBe(name)
  })

  it('says which file every problem is in', () => {
    const [first] = problemsOf('[')
    expect(first.where.file).toBe('x.json')
  })
})

describe('what is no JSON', () => {
  it('is refused by its length before it is read', () => {
    const unread = new Proxy(new Uint8Array(0), {
      get: (target, key) => {
        if (key === 'byteLength') return 200 * 1024 * 1024
        throw new Error(`looked at ${String(key)} of ${target.length} bytes`)
      },
    })
    expect(problemsOf(unread)).toMatchObject([
      { code: 'file.tooLarge', facts: { bytes: 209_715_200, mostBytes: limits.fileBytes } },
    ])
  })

  it('is told apart: empty, no text, cut off, wrong', () => {
    for (const empty of ['', ' \n\t', '\uFEFF'])
      expect(problemsOf(empty)).toMatchObject([{ code: 'file.empty' }])
    expect(problemsOf(Uint8Array.of(0xff, 0xfe, 0x7b, 0))).toMatchObject([{ code: 'file.notText' }])
    expect(problemsOf(Uint8Array.of(0x22, 0xc3, 0x28, 0x22))).toMatchObject([{ code: 'file.notText' }])
    expect(problemsOf(Uint8Array.of(0x50, 0x4b, 3, 4, 0xff))).toMatchObject([{ code: 'file.notText' }])
  })

  it('is called cut off wherever a site file is cut', () => {
    for (let length = 1; length < saved.length - 2; length += 97) {
      const [first] = problemsOf(saved.slice(0, length))
      expect(first).toMatchObject({ code: 'file.notJson', facts: { truncated: true } })
    }
  })

  it.each([
    '{"a": 0.',
    '[-',
    '[1e',
    '[1E+',
    '["\\',
    '["\\u00',
    '["\\u',
    '[tr',
    '[',
    '{"a"',
    '{"a":',
    '{"a":1,',
    '["a',
  ])('is called cut off after %j', (text) => {
    expect(problemsOf(text)).toMatchObject([{ code: 'file.notJson', facts: { truncated: true } }])
  })

  it('is called cut off in the middle of a character', () => {
    const bytes = bytesOf('["é')
    expect(problemsOf(bytes.subarray(0, bytes.length - 1))).toMatchObject([
      { code: 'file.notJson', facts: { truncated: true } },
    ])
  })

  it.each([
    ['{"format": "groundweave-site",\n  "version": 1,\n}', 3, 1],
    ['{"format": \n groundweave}', 2, 2],
    ['{"a": 1\n "b": 2}', 2, 2],
    ['{"a": 01}', 1, 8],
    ['{"a": .5}', 1, 7],
    ['{"a": NaN}', 1, 7],
    ["{'a': 1}", 1, 2],
    ['{"a": "line\nbreak"}', 1, 12],
    ['{"a": "\\x"}', 1, 8],
    ['{"a": 1} // more', 1, 10],
    ['{"a": [1, 2}', 1, 12],
    ['{"a" 1}', 1, 6],
  ])('is placed: %j at line %i, column %i', (text, line, column) => {
    expect(problemsOf(text)).toMatchObject([
      { code: 'file.notJson', where: { line, column }, facts: { truncated: false } },
    ])
  })

  it('is refused for a key that stands twice, which would lose what the first one says', () => {
    const text = saved.replace('"rows": [', '"rows": [],\n    "rows": [')
    expect(problemsOf(text)).toMatchObject([
      { code: 'reference.duplicateId', facts: { what: 'key', id: 'rows' }, where: { column: 5 } },
    ])
    expect(problemsOf('{"a": {"b\\u0063": 1, "bc": 2}}')).toMatchObject([{ facts: { id: 'bc' } }])
  })

  it('is refused for its nesting or its number of values before it is parsed', () => {
    const deep = '['.repeat(100_000) + ']'.repeat(100_000)
    expect(problemsOf(deep)).toMatchObject([
      { code: 'size.tooMany', facts: { what: 'levels of nesting' }, where: { line: 1, column: 65 } },
    ])
    expect(problemsOf('{"a":'.repeat(100_000))).toMatchObject([{ code: 'size.tooMany' }])
    expect(problemsOf(`[${'[],'.repeat(5_000_000)}[]]`)).toMatchObject([
      { code: 'size.tooMany', facts: { what: 'values in the file', most: limits.fileValues } },
    ])
    const brackets = `"${'[{,:'.repeat(100_000)}\\"["`
    expect(problemsOf(brackets)).toMatchObject([{ code: 'file.notASite' }])
  })
})

describe('the envelope', () => {
  it.each([
    ['[]', 'file.notASite'],
    ['null', 'file.notASite'],
    ['"groundweave-site"', 'file.notASite'],
    ['{}', 'file.notASite'],
    ['{"format": "other", "version": 1}', 'file.notASite'],
    ['{"__proto__": {"format": "groundweave-site", "version": 1}}', 'file.notASite'],
    ['{"format": "groundweave-site"}', 'file.badVersion'],
    ['{"format": "groundweave-site", "version": "1"}', 'file.badVersion'],
    ['{"format": "groundweave-site", "version": 0}', 'file.badVersion'],
    ['{"format": "groundweave-site", "version": 1.5}', 'file.badVersion'],
    ['{"format": "groundweave-site", "version": 3, "anything": {}}', 'file.newerVersion'],
  ])('%s is refused as %s', (text, code) => {
    expect(problemsOf(text)).toMatchObject([{ code }])
  })
})

describe('the shape', () => {
  it('names unknown keys where they stand, prototype keys among them', () => {
    const text = inDrawing((drawing) => {
      Object.assign(drawing.rows[1], { colour: 'red', bearing: 3 })
    })
    expect(problemsOf(text)).toMatchObject([
      {
        code: 'value.unknownKey',
        facts: { keys: ['colour', 'bearing'] },
        where: { path: ['drawing', 'rows', 1] },
      },
    ])
    for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const polluted = saved.replace('"name": "Example"', `"name": "Example", "${key}": {"polluted": true}`)
      expect(problemsOf(polluted)).toMatchObject([{ code: 'value.unknownKey', facts: { keys: [key] } }])
      const label = saved.replace('"tableLabels":{}', `"tableLabels":{"${key}":"x"}`)
      expect(problemsOf(label)).toMatchObject([{ code: 'value.unknownKey', facts: { keys: [key] } }])
    }
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
  })

  it('says what is missing, expected and found', () => {
    const text = inDrawing((drawing) => {
      delete drawing.rows[0].bearingDeg
      drawing.rows[0].label = 7
      drawing.rows[0].gapM = -1
      drawing.rows[0].originM = [0, 0]
      drawing.electrodes[0].form = 'mesh'
      drawing.electrodes[1].areaM2 = 0
      ;(drawing.tableTypes[0].posts as Record<string, unknown>).lines = 3
      drawing.tableTypes[1].mounting = null
      drawing.criteria[0].id = 'Path to bar'
    })
    const told = problemsOf(text).map(({ code, where, facts }) => [code, where.path?.join('.'), facts])
    expect(told).toEqual(
      [
        [
          'value.wrong',
          'drawing.criteria.0.id',
          {
            expected: 'a short name: a small letter, then up to 39 letters, digits or hyphens',
            found: '"Path to bar"',
          },
        ],
        ['value.missing', 'drawing.rows.0.bearingDeg', { expected: 'a number' }],
        ['value.outOfRange', 'drawing.rows.0.gapM', { expected: 'at least 0', found: '-1' }],
        ['value.outOfRange', 'drawing.electrodes.1.areaM2', { expected: 'more than 0', found: '0' }],
        ['value.wrong', 'drawing.rows.0.label', { expected: 'text in quotation marks', found: '7' }],
        ['value.wrong', 'drawing.rows.0.originM', { expected: 'an object', found: 'a list of 2' }],
        [
          'value.wrong',
          'drawing.electrodes.0.form',
          { expected: 'one of "rod", "plate", "strip"', found: '"mesh"' },
        ],
        ['value.wrong', 'drawing.tableTypes.0.posts.lines', { expected: 'one of 1, 2', found: '3' }],
        [
          'value.wrong',
          'drawing.tableTypes.1.mounting',
          { expected: 'one of "fixedTilt", "tracker", "flushRoof"', found: 'null' },
        ],
      ].toSorted((a, b) => told.findIndex((t) => t[1] === a[1]) - told.findIndex((t) => t[1] === b[1])),
    )
    expect(told).toHaveLength(9)
  })

  it('refuses negative and endless ohms, and instants without a zone', () => {
    const negative = saved.replace('"ohm":0.12', '"ohm":-0.12')
    expect(problemsOf(negative)).toMatchObject([
      { code: 'value.outOfRange', where: { path: ['record', 5, 'result', 'ohm'] } },
    ])
    const endless = saved.replace('"ohm":0.12', '"ohm":1e999')
    expect(problemsOf(endless)).toMatchObject([
      { code: 'value.outOfRange', facts: { found: 'a number too large to hold' } },
    ])
    const unzoned = saved.replace('2026-05-04T07:15:00Z', '2026-05-04T07:15:00')
    expect(problemsOf(unzoned)).toMatchObject([{ code: 'value.wrong', where: { path: ['record', 5, 'at'] } }])
  })

  it('refuses a table of a thousand million modules and lists longer than allowed', () => {
    const modules = inDrawing((drawing) => {
      ;(drawing.tableTypes[0].modules as Record<string, unknown>).across = 1_000_000_000
    })
    expect(problemsOf(modules)).toMatchObject([
      {
        code: 'value.outOfRange',
        facts: { expected: 'at most 400', found: '1000000000' },
        where: { path: ['drawing', 'tableTypes', 0, 'modules', 'across'] },
      },
    ])
    const kinds = inDrawing((drawing) => {
      drawing.criteria = Array.from({ length: 501 }, () => drawing.criteria[0])
    })
    expect(problemsOf(kinds)).toMatchObject([
      { code: 'size.tooMany', facts: { what: 'items in criteria', found: 501, most: 500 } },
    ])
  })

  it('stops after fifty problems, however many a list holds', () => {
    const zeros = saved.replace('"record": [', `"record": [\n${'0,'.repeat(900_000)}`)
    expect(problemsOf(zeros)).toHaveLength(50)
  })
})

describe('the content', () => {
  it('is refused for ids given twice and for landings on nothing', () => {
    const twice = inDrawing((drawing) => void (drawing.rows[1].id = 1))
    expect(problemsOf(twice)[0]).toMatchObject({
      code: 'reference.duplicateId',
      facts: { what: 'row', id: '1' },
    })
    const dangling = saved.replace('"part":"R1/T1/L1.1","kind"', '"part":"R1/T9/L1.1","kind"')
    expect(problemsOf(dangling)).toMatchObject([
      { code: 'reference.noSuchPart', where: { address: 'R1/T9/L1.1', file: 'x.json' } },
    ])
  })

  it('is refused for more joints than are computed, without expanding them', () => {
    const row = {
      ...exampleSite().drawing.rows[1],
      runs: [{ firstTable: 1, count: 100_000, type: 'tracker' }],
    }
    const large = inDrawing((drawing) => {
      drawing.tableTypes = [tracker, drawing.tableTypes[0]]
      drawing.rows.push(
        ...Array.from({ length: 19_000 }, (_, k) => ({ ...row, id: 10 + k, nextTable: 100_001 })),
      )
    })
    expect(problemsOf(large)).toMatchObject([
      { code: 'size.tooManyJoints', where: { path: ['drawing', 'rows'] } },
    ])
  })

  it('opens with a reading on a row that is no longer drawn', () => {
    const moved = saved.replace('"part":"R3/T1/F1.5"', '"part":"R2/T1/F1.5"')
    expect(problemsOf(moved)).toEqual([])
  })
})
