import { expect, it } from 'vitest'
import { labelCounter } from '../../src/model/countedLabel.ts'

const copies = (taken: readonly string[], label: string, times = 1) => {
  const next = labelCounter(taken)
  return Array.from({ length: times }, () => next(label))
}

it('counts the last number of a label up to the next that is free', () => {
  expect(copies(['Row 1'], 'Row 1')).toEqual(['Row 2'])
  expect(copies(['Row 1', 'Row 2', 'Row 4'], 'Row 1', 3)).toEqual(['Row 3', 'Row 5', 'Row 6'])
  expect(copies(['A-09'], 'A-09', 2)).toEqual(['A-10', 'A-11'])
  expect(copies(['A-099'], 'A-099', 2)).toEqual(['A-100', 'A-101'])
  expect(copies(['2 of block 7b'], '2 of block 7b')).toEqual(['2 of block 8b'])
})

it('appends a number where there is none to count, keeps a free label and no label', () => {
  expect(copies(['main bar'], 'main bar', 2)).toEqual(['main bar 2', 'main bar 3'])
  expect(copies(['built 20240131001'], 'built 20240131001')).toEqual(['built 20240131001 2'])
  expect(copies([], 'Row 7', 2)).toEqual(['Row 7', 'Row 8'])
  expect(copies([''], '', 2)).toEqual(['', ''])
  expect(copies(['x'.repeat(200)], 'x'.repeat(200))).toEqual([`${'x'.repeat(190)} 2`])
})

it('gives no label twice, of several series at once', () => {
  const next = labelCounter(['Row 1', 'Row 2', 'Row 3'])
  const given = [1, 2, 3].flatMap(() => ['Row 1', 'Row 2', 'Row 3'].map(next))
  expect(given).toEqual([4, 5, 6, 7, 8, 9, 10, 11, 12].map((n) => `Row ${n}`))
})

it('is as quick for the last of very many', () => {
  const labels = Array.from({ length: 20_000 }, (_, k) => `Row ${k + 1}`)
  const next = labelCounter(labels)
  const started = performance.now()
  const made = labels.map(next)
  expect(made.at(-1)).toBe('Row 40000')
  expect(performance.now() - started).toBeLessThan(10_000)
})
