import { describe, expect, it } from 'vitest'
import { readLabelPattern, writeLabel } from '../../../src/model/labels/labelPattern.ts'

function written(pattern: string, row = 3, table = 7, rowName = 'North') {
  const pieces = readLabelPattern(pattern)
  if (!pieces.ok) throw new Error(pieces.error.code)
  return writeLabel(pieces.value, { row, table, rowName })
}

describe('a pattern', () => {
  it.each([
    ['{row}-{table}', '3-7'],
    ['T{table:02}', 'T07'],
    ['{row:A}{table:03}', 'C007'],
    ['{row:a}/{row}', 'c/3'],
    ['{name} · {table}', 'North · 7'],
    ['Table', 'Table'],
    ['', ''],
    ['a } b', 'a } b'],
  ])('%s is written %s', (pattern, label) => {
    expect(written(pattern)).toBe(label)
  })

  it('counts in letters as columns of a sheet do', () => {
    const letters = [1, 26, 27, 52, 53, 702, 703].map((row) => written('{row:A}', row))
    expect(letters).toEqual(['A', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA'])
    expect(written('{table:02}', 1, 1234)).toBe('1234')
  })

  it.each(['{tabel}', '{row:}', '{row:00}', '{row:2}', '{name:A}', '{row', '{}', '{table:AA}', '{ row }'])(
    '%s is refused',
    (pattern) => {
      expect(readLabelPattern(pattern)).toMatchObject({
        ok: false,
        error: { code: 'label.placeholder', facts: { found: pattern } },
      })
    },
  )
})
