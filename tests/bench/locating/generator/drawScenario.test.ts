import { describe, expect, it } from 'vitest'
import { siteNotices } from '../../../../src/model/checkSite.ts'
import { siteSchema } from '../../../../src/model/schema/site.ts'
import { drawScenario } from './drawScenario.ts'
import { families } from './families.ts'
import { seedListHash, seedOf, seedsPerFamily } from './seeds.ts'

describe.each(families)('$name', (family) => {
  const scenarios = [0, 1, 2, 3, 4].map((k) => drawScenario(family, seedOf('dev', family, k)))

  it('gives sites that a user could have typed', () => {
    for (const { site } of scenarios) {
      expect(siteSchema.safeParse(site).success).toBe(true)
      expect(siteNotices(site)).toEqual([])
    }
  })

  it('is the same for the same seed', () => {
    const again = drawScenario(family, scenarios[1].seed)
    expect(again.site).toEqual(scenarios[1].site)
    expect(again.faults).toEqual(scenarios[1].faults)
  })

  it('does not show the site what is wrong, nor what nobody drew', () => {
    for (const { site } of scenarios) {
      expect(site.drawing.extraJoints).toEqual([])
      expect(site.drawing.asBuilt).toEqual([])
      expect(site.record.every(({ entry }) => entry !== 'look' && entry !== 'note')).toBe(true)
    }
  })

  it('keeps true ohms positive, and finite where something was drawn and is not open', () => {
    for (const { possible, ohm, faults } of scenarios) {
      const open = new Set(faults.filter((f) => f.addedOhm === Infinity).map((f) => f.edge))
      for (const [e, value] of ohm.entries()) {
        expect(value).toBeGreaterThan(0)
        if (!possible.undrawn.includes(e)) expect(value === Infinity).toBe(open.has(e))
      }
    }
  })
})

describe('seeds', () => {
  it('of tests and development never meet', () => {
    const seeds = (['test', 'dev'] as const).flatMap((set) =>
      families.flatMap((family) => Array.from({ length: seedsPerFamily }, (_, k) => seedOf(set, family, k))),
    )
    expect(new Set(seeds).size).toBe(seeds.length)
  })

  it('of the tests are frozen', () => {
    expect(seedListHash('test', families)).toBe(
      'd66aed1d981d62cd4059aa917a4ddead9d730358479875cfc2090d0850e80901',
    )
  })
})
