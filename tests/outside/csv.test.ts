import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { cleanLabel, cleanNote } from '../../src/files/cleanLabel.ts'
import { csvLine } from '../../src/files/csvLine.ts'
import { readCells } from '../../src/files/tables/readCells.ts'

const read = (text: string) => {
  const cells = wholly(readCells(text))
  if (!cells.ok) throw new Error(JSON.stringify(cells.error))
  return { header: cells.value.header, lines: cells.value.lines.map((line) => line.cells) }
}

// RFC 4180 (October 2005), section 2, "Definition of the CSV Format", rules 1 to 7. The rules' examples are from memory.
describe('RFC 4180, section 2', () => {
  it('rule 1: each record is on a line of its own, ended by CRLF', () => {
    expect(read('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual({
      header: ['aaa', 'bbb', 'ccc'],
      lines: [['zzz', 'yyy', 'xxx']],
    })
  })

  it('rule 2: the last record may or may not have a line end', () => {
    expect(read('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual(read('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n'))
  })

  it('rule 3: the first line may be a header of the same format; here it has to be one', () => {
    expect(read('field_name,field_name,field_name\r\naaa,bbb,ccc\r\n').header).toEqual([
      'field_name',
      'field_name',
      'field_name',
    ])
  })

  it('rule 4: fields are separated by commas, spaces belong to a field, the last has no comma after it', () => {
    expect(read('aaa,bbb,ccc\n1, 2 ,3').lines).toEqual([['1', ' 2 ', '3']])
  })

  it('rule 5: a field may be enclosed in quotation marks', () => {
    expect(read('h,i,j\r\n"aaa","bbb","ccc"\r\nzzz,yyy,xxx').lines).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ])
  })

  it('rule 6: a field with line ends, quotation marks or commas is enclosed in quotation marks', () => {
    expect(read('h,i,j\r\n"aaa","b\r\nbb","c,cc"\r\nzzz,yyy,xxx').lines).toEqual([
      ['aaa', 'b\nbb', 'c,cc'],
      ['zzz', 'yyy', 'xxx'],
    ])
  })

  it('rule 7: a quotation mark inside such a field is doubled', () => {
    expect(read('h,i,j\r\n"aaa","b""bb","ccc"').lines).toEqual([['aaa', 'b"bb', 'ccc']])
  })

  it('what is written is read back as it was (rules 1, 4, 6 and 7 from the other side)', () => {
    const cells = ['a', 'b "c"', 'd,e', 'f g', '']
    const line = csvLine(cells)
    expect(line.endsWith('\r\n')).toBe(true)
    expect(read(`h,i,j,k,l\r\n${line}`).lines).toEqual([cells])
  })
})

// Texts that a spreadsheet would run begin with = + - @, a tab or a carriage return ("CSV injection", OWASP, community page; from
// memory). What is guarded comes back as it was after the one apostrophe is taken away.
describe('texts that a spreadsheet would run', () => {
  it.each(['=1+1', '+1', '-1', '@a', "'=1", "''=1"])(
    '%s begins with an apostrophe, and comes back',
    (text) => {
      const [cell] = read(`h,i\r\n${csvLine([text, 'x'])}`).lines[0]
      expect(cell).toBe(`'${text}`)
      expect(cleanNote(cell)).toBe(text)
      expect(cleanLabel(cell)).toBe(text)
    },
  )

  it('numbers, and texts with such signs further on, stay as they are', () => {
    expect(csvLine([-1.5, 'a=b', "it's", 'R1/T1/F1.1'])).toBe("-1.5,a=b,it's,R1/T1/F1.1\r\n")
  })
})
