import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { decodeText } from '../../src/files/decodeText.ts'
import { wholeText } from '../../src/files/exportPiece.ts'
import { canImport, countsOf } from '../../src/files/importPlan.ts'
import { guessColumns, guessUnit, headerWords } from '../../src/files/tables/columns.ts'
import { planTables } from '../../src/files/tables/planTables.ts'
import { readCells, type Cells } from '../../src/files/tables/readCells.ts'
import { guessDecimalMark, readNumber } from '../../src/files/tables/readNumber.ts'
import { guessChoices, typeNamesIn, type TableChoices } from '../../src/files/tables/tableChoices.ts'
import { drawnTables, writeTables } from '../../src/files/tables/writeTables.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { addDrawn } from '../../src/model/edits/addDrawn.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { problemLine } from '../../src/text/problems.ts'
import { deepFreeze } from '../model/deepFreeze.ts'
import { exampleSite, fixedTilt, tracker, uuid } from '../model/exampleSite.ts'

const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'x', units: 'metric' })
const site: Site = deepFreeze({ ...empty, drawing: { ...empty.drawing, tableTypes: [fixedTilt, tracker] } })

function cellsOf(text: string): Cells {
  const cells = wholly(readCells(text))
  if (!cells.ok) throw new Error(problemLine(cells.error))
  return cells.value
}

function plan(text: string, changes: Partial<TableChoices> = {}, at = site) {
  const cells = cellsOf(text)
  return wholly(planTables(cells, { ...guessChoices(cells, at.drawing), ...changes }, at.drawing))
}

const indexOf = (of: Site) => {
  const index = indexSite(of.drawing)
  if (!index.ok) throw new Error(JSON.stringify(index.error))
  return index.value
}

/** Length of a fixed table along its row: 4 modules of 1.1 m and three gaps of 20 mm. */
const alongM = 4.46

describe('cells', () => {
  it('are found with commas, semicolons, tabs and bars, with and without a mark at the head', () => {
    for (const mark of [',', ';', '\t', '|']) {
      const cells = cellsOf(`\ufeffx${mark}y\n1${mark}2\n`)
      expect([cells.delimiter, cells.header, cells.lines[0].cells]).toEqual([mark, ['x', 'y'], ['1', '2']])
    }
  })

  it('keep the line of the file on which they begin', () => {
    const { lines } = cellsOf('x,y\r\n\r\n"a\r\nb",2\r\n3,4\r')
    expect(lines.map(({ number }) => number)).toEqual([3, 5])
  })

  it('of a very long list come in portions, in order', () => {
    const text = 'x,y\n' + Array.from({ length: 5001 }, (_, k) => `${k},"${k}\n"\n`).join('')
    const { lines } = cellsOf(text)
    expect(lines.length).toBe(5001)
    expect(lines.at(-1)).toEqual({ number: 10_002, cells: ['5000', '5000\n'], isBroken: false })
  })

  it('refuse too many lines, cells and quotation marks, and a file without content', () => {
    const refusal = (text: string) => {
      const cells = wholly(readCells(text))
      return cells.ok ? null : cells.error
    }
    expect(refusal('\n'.repeat(200_001))).toMatchObject({ facts: { what: 'lines', found: 200_002 } })
    expect(refusal(`x${',x'.repeat(200)}`)).toMatchObject({
      facts: { what: 'cells in one line' },
      where: { line: 1 },
    })
    expect(refusal('"x'.repeat(2_000_001))).toMatchObject({ facts: { what: 'quotation marks' } })
    expect(refusal(' ,\n,\n')).toMatchObject({ code: 'file.empty' })
  })

  it('that hold a lone quotation mark are told', () => {
    const { troubles, wrong } = plan('x,y,tables\n1,2,3\n"4"5,6,7\n')
    expect(wrong).toBe(1)
    expect(problemLine(troubles[0])).toContain('line 3')
  })
})

describe('bytes', () => {
  it('are read as UTF-8, UTF-16 and the old western code page', () => {
    const utf16 = (text: string) =>
      new Uint8Array([0xff, 0xfe, ...[...text].flatMap((c) => [c.charCodeAt(0), 0])])
    expect(decodeText(new TextEncoder().encode('Zürich'))).toMatchObject({ value: { text: 'Zürich' } })
    expect(decodeText(utf16('x;y'))).toMatchObject({ value: { text: 'x;y', encoding: 'utf-16' } })
    expect(decodeText(new Uint8Array([0x5a, 0xfc]))).toMatchObject({
      value: { text: 'Zü', encoding: 'windows-1252' },
    })
  })

  it('that are no text, none at all or too many are refused', () => {
    expect(decodeText(new Uint8Array([0x50, 0x4b, 3, 4, 0, 0]))).toMatchObject({
      error: { code: 'file.notTable' },
    })
    expect(decodeText(new Uint8Array())).toMatchObject({ error: { code: 'file.empty' } })
    expect(decodeText(new Uint8Array(64 * 1024 ** 2 + 1))).toMatchObject({ error: { code: 'file.tooLarge' } })
  })
})

describe('numbers', () => {
  it.each([
    ['12.5', 'point', 12.5],
    ['-0.5', 'point', -0.5],
    ['−3', 'point', -3],
    ['1 234.5', 'point', 1234.5],
    ['1,234.5', 'point', 1234.5],
    ['1.2e3', 'point', 1200],
    ['90°', 'point', 90],
    ['12,5', 'comma', 12.5],
    ['1.234,5', 'comma', 1234.5],
    ['1’234,5', 'comma', 1234.5],
    ['1,234', 'point', null],
    ['1.234', 'comma', null],
    ['NaN', 'point', null],
    ['Infinity', 'point', null],
    ['1e999', 'point', null],
    ['0x10', 'point', null],
    ['', 'point', null],
    ['12 m', 'point', null],
  ] as const)('%s with a %s is %s', (text, mark, value) => {
    expect(readNumber(text, mark)).toBe(value)
  })

  it('show their decimal mark', () => {
    expect(guessDecimalMark(['1,5', '2'])).toBe('comma')
    expect(guessDecimalMark(['1,5', '2.5'])).toBe('point')
    expect(guessDecimalMark([])).toBe('point')
  })
})

describe('headers', () => {
  it.each([
    ['X_East (ft)', 'x east'],
    ['rowLabel', 'row label'],
    ['Bearing [deg]', 'bearing'],
    ['__proto__', 'proto'],
    ['', ''],
  ])('%s is %s', (header, words) => {
    expect(headerWords(header)).toBe(words)
  })

  it('are guessed, each column once, also with prototype names and the same name twice', () => {
    const columns = guessColumns([
      '__proto__',
      'constructor',
      'Easting',
      'Northing',
      'x',
      'Azimuth',
      'Qty',
      'Pitch',
      'Name',
    ])
    expect(columns).toMatchObject({
      x: 4,
      y: 3,
      bearing: 5,
      tables: 6,
      pitch: 7,
      label: 8,
      gap: -1,
      type: -1,
      row: -1,
    })
    expect(guessColumns(['x', 'x', 'y', 'y'])).toMatchObject({ x: 0, y: 2 })
    expect(guessColumns(['toString', 'hasOwnProperty'])).toMatchObject({ x: -1, y: -1 })
  })

  it('name a unit', () => {
    const unit = (header: string[]) => guessUnit(header, guessColumns(header))
    expect(unit(['x (m)', 'y (m)'])).toBe('m')
    expect(unit(['x_ft', 'y_ft'])).toBe('ft')
    expect(unit(['x (US survey ft)', 'y'])).toBe('usFt')
    expect(unit(['x', 'y'])).toBeNull()
  })
})

describe('rows from a list', () => {
  it('are those of the file, with a gap, a pitch, or neither', () => {
    const { items, wrong, preview } = plan(
      'Name,x,y,Bearing,Tables,Gap,Pitch,Type\n' +
        'A,10,20,90,6,0.3,,fixed\n' +
        `B,10,30,90,5,,${alongM + 0.4},"2 high × 4, portrait"\n` +
        'C,10,40,,4,,,tracker\n',
      { gapM: 0.7 },
    )
    expect(wrong).toBe(0)
    expect(items.rows.map(({ label, gapM, runs }) => [label, Number(gapM.toFixed(6)), runs])).toEqual([
      ['A', 0.3, [{ count: 6, type: 'fixed' }]],
      ['B', 0.4, [{ count: 5, type: 'fixed' }]],
      ['C', 0.7, [{ count: 4, type: 'tracker' }]],
    ])
    expect(items.rows[2].bearingDeg).toBe(90)
    expect(preview[1]).toMatchObject({ number: 3, what: 'row', label: 'B', tables: 5, type: 'fixed' })
  })

  it('come in US feet, with decimal commas, and with the way that tables face', () => {
    const [row] = plan('label;x (ft);y (ft);azimuth;tables;gap (ft)\nA;10,5;-20;180;2;1\n').items.rows
    expect(row.originM.x).toBeCloseTo(10.5 * 0.3048, 12)
    expect(row.originM.y).toBeCloseTo(-20 * 0.3048, 12)
    expect(row.bearingDeg).toBe(90)
    expect(row.gapM).toBeCloseTo(0.3048, 12)
    const [survey] = plan('x (US survey ft),y (US survey ft),tables\n3937,0,1\n').items.rows
    expect(survey.originM.x).toBeCloseTo(1200, 9)
  })

  it('far from an origin of their own are moved to a round place', () => {
    const text = 'Easting,Northing,tables\n512345.25,4649776.5,3\n512445.25,4649776.5,3\n'
    const choices = guessChoices(cellsOf(text), site.drawing)
    expect(choices.originM).toEqual({ x: 512_300, y: 4_649_700 })
    expect(plan(text).items.rows[0].originM).toEqual({ x: 45.25, y: 76.5 })
    const { troubles } = plan(text, { originM: { x: 0, y: 0 } })
    expect(problemLine(troubles[0])).toContain(
      'Easting, line 2: Expected a place at most 100 km from the origin',
    )
  })

  it('with something wrong say the line, the column, what, and what to do; the others are kept', () => {
    const { items, troubles, wrong, total } = plan(
      'Row,x,y,Azimuth,Tables,Pitch,Type\n' +
        'A,ten,1,180,4,,fixed\n' +
        'B,1,,180,4,,fixed\n' +
        'C,1,1,400,4,,fixed\n' +
        'D,1,1,180,2.5,,fixed\n' +
        'E,1,1,180,0,,fixed\n' +
        'F,1,1,180,3,2,fixed\n' +
        'G,1,1,180,3,,unheard of\n' +
        'H,1,1,180,3,,fixed,,more\n' +
        'I,1,1,180,3,,fixed\n',
    )
    expect([wrong, total, items.rows.map(({ label }) => label)]).toEqual([8, 9, ['I']])
    expect(troubles.map((trouble) => problemLine(trouble))).toEqual([
      'x, line 2: Expected a number for x, with a point before decimals; found “ten”. Put in a value of that sort.',
      'y, line 3: A value is missing; expected a number for y. Add it.',
      'Azimuth, line 4: Expected degrees from −360 to 360; found 400. Check the value and its unit.',
      'Tables, line 5: Expected a whole number of tables; found 2.5. Put in a value of that sort.',
      'Tables, line 6: Expected a whole number of tables from 1 to 100000; found 0. Check the value and its unit.',
      'Pitch, line 7: Expected at least the length of one table, 4.46; found 2. Check the value and its unit.',
      'Type, line 8: Expected the name of a table type of this site, or a choice of one for this name; found “unheard of”. Put in a value of that sort.',
      'line 9: Expected 7 cells as in the first line; found 9 cells. Put in a value of that sort.',
    ])
  })

  it('take a type for a name that the site does not know, once it is chosen', () => {
    const text = 'x,y,tables,type\n1,1,3,2P-4\n'
    const cells = cellsOf(text)
    const choices = guessChoices(cells, site.drawing)
    expect(typeNamesIn(cells, choices)).toEqual(['2P-4'])
    expect(choices.typeOf.get('2p-4')).toBeNull()
    const chosen = new Map([...choices.typeOf, ['2p-4', 'tracker']])
    expect(plan(text, { typeOf: chosen }).items.rows[0].runs).toEqual([{ count: 3, type: 'tracker' }])
    expect(plan(text, {}, empty).troubles[0].code).toBe('value.wrong')
  })

  it('too many joints are refused before anything is expanded', () => {
    const text = 'x,y,tables\n' + Array.from({ length: 3 }, (_, k) => `0,${k * 10},100000`).join('\n')
    const refused = canImport(site, plan(text))
    expect(refused).toMatchObject({ code: 'size.tooManyJoints' })
    expect(addDrawn(plan(text).items)(site)).toBe(site)
  })
})

describe('rows found from tables', () => {
  const line = (k: number, label: string, x: number, y: number, type = 'fixed') =>
    `${label},${k},${x},${y},90,${type}\n`
  const head = 'row,table,x,y,bearing,type\n'

  it('are one row where the gap is even, of runs where types change, with painted labels', () => {
    const x = [0, alongM + 0.3, 2 * (alongM + 0.3)]
    const { items, largestMoveM } = plan(
      head + line(7, 'A', x[1], 5) + line(3, 'A', x[0], 5) + line(9, 'A', x[2], 5, 'tracker'),
    )
    expect(items.rows).toHaveLength(1)
    const [row] = items.rows
    expect(row).toMatchObject({
      label: 'A',
      runs: [
        { count: 2, type: 'fixed' },
        { count: 1, type: 'tracker' },
      ],
      tableLabels: { 1: '3', 2: '7', 3: '9' },
    })
    expect(row.gapM).toBeCloseTo(0.3, 9)
    expect(largestMoveM).toBeLessThan(1e-9)
  })

  it('are parted at a road, at a step to the side and at another direction', () => {
    const pitch = alongM + 0.3
    const xs = [0, pitch, 2 * pitch, 2 * pitch + 12, 3 * pitch + 12]
    const text = head + xs.map((x, k) => line(k, 'A', x, 0)).join('') + line(8, 'A', 4 * pitch + 12, 0.5)
    const { items } = plan(text + 'A,9,0,-30,0,fixed\n')
    expect(items.rows.map(({ label, runs }) => [label, runs[0].count])).toEqual([
      ['A', 3],
      ['A (2)', 2],
      ['A (3)', 1],
      ['A (4)', 1],
    ])
  })

  it('without names are found by where the tables stand, in the order of the file', () => {
    const pitch = alongM + 0.3
    let text = 'x,y\n'
    for (let k = 0; k < 5; k++) for (let r = 0; r < 4; r++) text += `${k * pitch},${-8 * r}\n`
    const { items } = plan(text)
    expect(items.rows.map(({ label, originM, runs }) => [label, originM.y, runs[0].count])).toEqual([
      ['1', 0, 5],
      ['2', -8, 5],
      ['3', -16, 5],
      ['4', -24, 5],
    ])
  })

  it('stay within the tolerance, which is told', () => {
    const pitch = alongM + 0.3
    const off = [0, 0.012, -0.011, 0.009, 0.08, 0]
    const text = 'x,y\n' + off.map((d, k) => `${k * pitch},${d}`).join('\n')
    const { items, largestMoveM } = plan(text, { toleranceM: 0.02 })
    expect(items.rows.length).toBeGreaterThan(1)
    expect(largestMoveM).toBeGreaterThan(0.004)
    expect(largestMoveM).toBeLessThanOrEqual(0.02)
    expect(plan(text, { toleranceM: 0.1 }).items.rows).toHaveLength(1)
  })

  it('given by their middle stand with their corner where it belongs', () => {
    const [row] = plan('row,center x,center y,bearing\nA,0,0,90\n').items.rows
    const upM = (2 * 2.2 + 0.02) * Math.cos((20 * Math.PI) / 180)
    expect(row.originM.x).toBeCloseTo(-alongM / 2, 9)
    expect(row.originM.y).toBeCloseTo(-upM / 2, 9)
  })

  it('a hundred thousand tables on one spot, or in a hundred rows, take no time worth telling', () => {
    const heap = plan('x,y\n' + '5,5\n'.repeat(100_000))
    expect(canImport(site, heap)).toMatchObject({ code: 'size.tooMany', facts: { what: 'rows' } })
    let text = 'x,y\n'
    for (let r = 0; r < 100; r++) for (let k = 0; k < 1000; k++) text += `${k * 5},${-9 * r}\n`
    expect(plan(text).items.rows).toHaveLength(100)
  }, 20_000)
})

describe('labels', () => {
  it('with markup, control characters, turned writing and formulas stay text of one line', () => {
    const { items } = plan(
      `label,x,y,tables\n"<img src=x onerror=alert(1)>\u202e\n\u0007",1,1,1\n'=1+1,1,1,1\n${'x'.repeat(300)},1,1,1\n`,
    )
    expect(items.rows.map(({ label }) => label)).toEqual([
      '<img src=x onerror=alert(1)>',
      '=1+1',
      'x'.repeat(200),
    ])
  })
})

describe('there and back', () => {
  it('tables of the example site stand where they stood, in metres and in feet', () => {
    const drawn = exampleSite()
    for (const units of ['metric', 'us'] as const) {
      const text = wholeText(writeTables(indexOf(drawn), units))
      const back = addDrawn(plan(text).items)(site)
      compareTables(drawn, back, 0.0005)
    }
  })

  it('of any rows: every table to the millimetre, with its label and type', () => {
    const anyRow = fc.record({
      x: fc.double({ min: -3000, max: 3000, noNaN: true }),
      y: fc.double({ min: -3000, max: 3000, noNaN: true }),
      bearingDeg: fc.double({ min: 0, max: 359.99, noNaN: true }),
      gapM: fc.double({ min: 0, max: 3, noNaN: true }),
      runs: fc.array(
        fc.record({ count: fc.integer({ min: 1, max: 40 }), type: fc.constantFrom('fixed', 'tracker') }),
        {
          minLength: 1,
          maxLength: 4,
        },
      ),
    })
    fc.assert(
      fc.property(fc.array(anyRow, { minLength: 1, maxLength: 6 }), fc.boolean(), (rows, isUs) => {
        const links = { count: 0, kind: 'jumper' } as const
        const drawn = addDrawn({
          ...plan('x,y\n1,1\n').items,
          rows: rows.map(({ x, y, bearingDeg, gapM, runs }, k) => ({
            label: `row ${k}`,
            originM: { x, y },
            bearingDeg,
            gapM,
            runs,
            links,
            tableLabels: { 1: `=t${k}` },
          })),
        })(site)
        const text = wholeText(writeTables(indexOf(drawn), isUs ? 'us' : 'metric'))
        const back = addDrawn(plan(text, { toleranceM: 0.001 }).items)(site)
        compareTables(drawn, back, 0.001)
      }),
      { seed: 11, numRuns: 60 },
    )
  })
})

function compareTables(drawn: Site, back: Site, withinM: number) {
  const sorted = (of: Site) =>
    [...drawnTables(indexOf(of))].sort((a, b) => Math.round((a.x - b.x) * 50) || Math.round((a.y - b.y) * 50))
  const [one, other] = [sorted(drawn), sorted(back)]
  expect(other.length).toBe(one.length)
  one.forEach((table, k) => {
    expect(Math.hypot(table.x - other[k].x, table.y - other[k].y)).toBeLessThan(withinM)
    const end = (t: typeof table) => ({ x: t.x + t.along.x + t.up.x, y: t.y + t.along.y + t.up.y })
    expect(Math.hypot(end(table).x - end(other[k]).x, end(table).y - end(other[k]).y)).toBeLessThan(withinM)
    expect([other[k].label, other[k].type]).toEqual([table.label, table.type])
  })
}

it('counts what an import adds', () => {
  const found = plan('x,y,tables\n1,1,3\n1,20,4\n')
  expect(countsOf(site, found)).toMatchObject({ rows: 2, tables: 7, equipment: 0 })
  const joints = indexOf(addDrawn(found.items)(site)).jointCount
  expect(countsOf(site, found).joints).toBe(joints)
})
