import { expect, it } from 'vitest'
import { wordsIn } from '../../../src/text/lessons/lessonWords.ts'

const named = (text: string) => wordsIn([text]).map(({ word }) => word)

it('the words of a text are explained, with those that explain them', () => {
  expect(named('Nothing of the trade stands here.')).toEqual([])
  // a jumper needs the table it leads from, and so on
  expect(named('Two jumpers.')).toEqual(expect.arrayContaining(['Jumper', 'Table', 'Rail', 'Post', 'Module']))
  expect(named('14 A flow')).toContain('Current, ampere (A)')
  expect(named('A post')).not.toContain('Current, ampere (A)')
  expect(named('0.5 Ω')).toContain('Ohm (Ω)')
  expect(named('It floats.')).toContain('Floating')
  expect(named('unbonded')).toContain('Bond')
})
