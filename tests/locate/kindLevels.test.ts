import { describe, expect, it } from 'vitest'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { locateIn, partOf, prepare, rowSite, starOfRows, withReadings } from './rowSite.ts'

/** Four-wire readings of an array whose jumpers all have so many times the ohms of the catalogue, all else its medians. */
function read(factor: number) {
  const site = rowSite()
  const built = prepare(
    rowSite((drawing) => ({
      ...drawing,
      jointKinds: drawing.jointKinds.map((kind) =>
        kind.id === 'jumper' ? { ...kind, medianOhm: (kind.medianOhm ?? 0) * factor } : kind,
      ),
    })),
  )
  const taken = starOfRows(() => 0).map(({ from, to }) => {
    const ohm = pairResistance(built.solver.factor, partOf(built, from), partOf(built, to))
    return { from, to, ohm: Math.round(ohm * 10_000) / 10_000, kit: 'b' as const }
  })
  return locateIn(withReadings(site, taken))
}

describe('levels of joint kinds', () => {
  it('are learnt from readings that all share them', () => {
    const usual = read(1).levels.find(({ kind }) => kind === 'jumper')
    const higher = read(1.8).levels.find(({ kind }) => kind === 'jumper')
    expect(Math.abs(Math.log(usual!.factor))).toBeLessThan(0.25)
    // drawn towards the catalogue by what is assumed of it
    expect(higher!.factor).toBeGreaterThan(1.3)
    expect(higher!.factor).toBeLessThan(1.9)
    expect(higher!.low).toBeGreaterThan(1)
    expect(higher!.high).toBeGreaterThan(higher!.factor)
  })

  it('are not told where no reading says anything of them', () => {
    const told = read(1).levels.map(({ kind }) => kind)
    expect(told).toContain('jumper')
    // no rod was read, nor the clamps that frames hang on
    expect(told).not.toContain('rodClamp')
    expect(told).not.toContain('frameClamp')
  })
})
