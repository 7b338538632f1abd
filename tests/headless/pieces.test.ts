import { PassThrough, Writable } from 'node:stream'
import { describe, expect, it } from 'vitest'
import { csvLine } from '../../src/files/csvLine.ts'
import { displayWidth, wrapText } from '../../src/headless/displayWidth.ts'
import { toJson } from '../../src/headless/json.ts'
import { nearestWord } from '../../src/headless/nearestWord.ts'
import { ReaderGone, streamOutput } from '../../src/headless/output.ts'
import { Page } from '../../src/headless/page.ts'
import { formatTable } from '../../src/headless/table.ts'

describe('table', () => {
  const columns = [{ title: 'Joint' }, { title: 'Ohm', align: 'right' as const }]

  it('words to the left, numbers to the right, no spaces at the ends of lines', () => {
    expect(
      formatTable(columns, [
        ['a', '1'],
        ['jumper', '22.5'],
      ]),
    ).toEqual(['Joint    Ohm', '------  ----', 'a          1', 'jumper  22.5'])
  })

  it('too wide: words are wrapped, numbers never, and nothing is lost', () => {
    const lines = formatTable(columns, [['jumper between table three and table four', '0.8 mΩ']], 24)
    for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(24)
    expect(lines[2]).toMatch(/0\.8 mΩ$/)
    expect(lines.slice(2).join(' ').replace('0.8 mΩ', '').replace(/ +/g, ' ').trim()).toBe(
      'jumper between table three and table four',
    )
  })

  it('columns stay in line where letters are wide, narrow or joined', () => {
    expect([displayWidth('Ω'), displayWidth('表'), displayWidth('e\u0301'), displayWidth('')]).toEqual([
      1, 2, 1, 0,
    ])
    const lines = formatTable(columns, [
      ['表', '1'],
      ['e\u0301', '2'],
    ])
    expect(new Set(lines.map(displayWidth)).size).toBe(1)
  })

  it('has no titles and no rule where all titles are empty', () => {
    expect(formatTable([{ title: '' }, { title: '' }], [['a', 'b']])).toEqual(['a  b'])
  })
})

describe('wrapping', () => {
  it('keeps a number and its unit on one line', () => {
    for (let width = 8; width < 40; width++) {
      const lines = wrapText('It reads 0.4 Ω where 31 ± 20 mΩ, > 99 % of it, is expected', width)
      expect(lines.join(' ')).toBe('It reads 0.4 Ω where 31 ± 20 mΩ, > 99 % of it, is expected')
      for (const line of lines) expect(line).not.toMatch(/^(Ω|mΩ|%)|[±>]$/)
    }
  })

  it('breaks a word that is too long, and loses no letter of it', () => {
    expect(wrapText('abcdefghij', 4)).toEqual(['abcd', 'efgh', 'ij'])
    expect(wrapText('', 4)).toEqual([''])
  })

  it('emphasis is for terminals only', () => {
    const page = (isTerminal: boolean) => {
      const made = new Page({ width: 80, isTerminal })
      made.title('Answer')
      return made.toString()
    }
    expect(page(false)).toBe('Answer\n')
    expect(page(true)).toContain('\u001b[1m')
  })
})

describe('CSV', () => {
  it('quotes what needs quotes', () => {
    expect(csvLine(['a,b', 'say "x"', 'two\nlines', 'plain'])).toBe(
      '"a,b","say ""x""","two\nlines",plain\r\n',
    )
  })

  it('a word that a spreadsheet would run is guarded; a negative number stays a number', () => {
    expect(csvLine(['=1+1', '+x', '-x', '@x', '\tx', -2.5])).toBe(`'=1+1,'+x,'-x,'@x,'\tx,-2.5\r\n`)
  })

  it('infinite, empty and logical cells; numbers keep all their digits', () => {
    expect(csvLine([Infinity, null, true, 0.1 + 0.2])).toBe('infinite,,true,0.30000000000000004\r\n')
  })
})

describe('JSON', () => {
  it('writes infinity as a word, and refuses what is no number', () => {
    expect(toJson({ a: Infinity, b: 1 })).toBe('{"a":"infinite","b":1}')
    expect(() => toJson({ a: NaN })).toThrow(/Internal error/)
    expect(() => toJson([-Infinity])).toThrow(/Internal error/)
  })
})

describe('nearest word', () => {
  it.each([
    ['loacte', 'locate'],
    ['lcate', 'locate'],
    ['chek', 'check'],
    ['resistence', 'resistance'],
    ['weld', null],
  ])('%s: %s', (given, meant) => {
    expect(nearestWord(given, ['check', 'network', 'resistance', 'currents', 'locate'])).toBe(meant)
  })
})

describe('output', () => {
  it('is in order and complete, in pieces', async () => {
    const stream = new PassThrough()
    const pieces: Buffer[] = []
    stream.on('data', (piece: Buffer) => pieces.push(piece))
    const output = streamOutput(stream)
    const lines = Array.from({ length: 20_000 }, (_, k) => `line ${k}\n`)
    for (const line of lines) await output.write(line)
    await output.flush()
    expect(Buffer.concat(pieces).toString()).toBe(lines.join(''))
    expect(pieces.length).toBeGreaterThan(1)
  })

  it('tells a reader that has gone from a disk that is full', async () => {
    const failing = (code: string) =>
      streamOutput(
        new Writable({
          write(_piece, _encoding, done) {
            done(Object.assign(new Error(code), { code }))
          },
        }),
      )
    const gone = failing('EPIPE')
    await gone.write('x')
    await expect(gone.flush()).rejects.toBeInstanceOf(ReaderGone)
    const full = failing('ENOSPC')
    await full.write('x')
    await expect(full.flush()).rejects.toMatchObject({ code: 'ENOSPC' })
  })
})
