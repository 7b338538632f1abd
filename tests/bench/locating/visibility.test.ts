import { describe, expect, it } from 'vitest'
import { drawScenario } from './generator/drawScenario.ts'
import { families } from './generator/families.ts'
import { typedSite } from './typedSite.ts'
import { leastVisible, shiftOf, visibleAmong } from './visibility.ts'

describe('what readings could show', () => {
  const [, , ring] = families
  // four rows of four tables in a ring; found among the development seeds
  const typed = typedSite(drawScenario(ring, 0x10000000 + 800_000).site)
  const jumpers = [...typed.address.keys()].filter((e) => typed.address[e].includes('+'))
  const open = (edge: number) => ({ edge, addedOhm: Infinity })
  const seen = visibleAmong(typed)

  it('is each joint by itself where one is bad', () => {
    for (const edge of jumpers) {
      const isSeen = shiftOf(typed, edge, Infinity) >= leastVisible
      expect(seen([open(edge)])).toEqual(isSeen ? [edge] : [])
    }
  })

  it('takes in joints that cut a part off only together', () => {
    const inRow = jumpers.filter((e) => typed.address[e].startsWith('R1/'))
    const [first, second] = inRow
    expect(seen([open(first), open(second)])).toEqual([first, second])
  })

  it('is nothing where nothing is bad, and grows with the ohms', () => {
    expect(seen([])).toEqual([])
    const [edge] = jumpers
    const shifts = [0.001, 0.01, 0.1, 1, Infinity].map((addedOhm) => shiftOf(typed, edge, addedOhm))
    expect(shifts.toSorted((a, b) => a - b)).toEqual(shifts)
  })
})
