import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { unbrokenPieces } from '../../src/text/unbrokenPieces.ts'

const wholes = (sentence: string) =>
  unbrokenPieces(sentence)
    .filter(({ isWhole }) => isWhole)
    .map(({ text }) => text)

describe('a sentence in pieces', () => {
  it('keeps painted labels, addresses and values whole', () => {
    expect(
      wholes('Jumper between table 4-06 and table 4-07 of Row 4 (R4/T6+T7~1), read 2.15 Ω, not 30 mΩ.'),
    ).toEqual(['4-06', '4-07', 'R4/T6+T7~1', '2.15 Ω', '30 mΩ'])
  })

  it('lets words, plain numbers and what is too long for a narrow screen break', () => {
    expect(wholes('A two-wire kit, as-built and/or 12 frames')).toEqual([])
    expect(wholes('table A-very-long-label-that-was-painted-on-it-7')).toEqual([])
  })

  it('loses and adds nothing', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('4', '-', 'R', '/', ' ', 'm', 'Ω', '.', 'ä'), maxLength: 60 }),
        (text) => {
          expect(
            unbrokenPieces(text)
              .map((piece) => piece.text)
              .join(''),
          ).toBe(text)
        },
      ),
      { seed: 41, numRuns: 500 },
    )
  })
})
