import { describe, expect, it } from 'vitest'
import { siteNotices } from '../../../../src/model/checkSite.ts'
import { siteSchema } from '../../../../src/model/schema/site.ts'
import { randomStream } from '../../../../src/base/random.ts'
import { spotOn } from '../../../generator/spotOn.ts'
import { drawContactAt } from './drawContactAt.ts'
import { drawScenario } from './drawScenario.ts'
import { largeFamilies } from '../large/largeFamilies.ts'
import { contactFactors, contactFamilies, families } from './families.ts'
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
    const all = [...families, ...contactFamilies, ...largeFamilies]
    const seeds = (['test', 'dev'] as const).flatMap((set) =>
      all.flatMap((family) => Array.from({ length: seedsPerFamily }, (_, k) => seedOf(set, family, k))),
    )
    expect(new Set(seeds).size).toBe(seeds.length)
  })

  it('of the tests are frozen', () => {
    expect(seedListHash('test', families)).toBe(
      'd66aed1d981d62cd4059aa917a4ddead9d730358479875cfc2090d0850e80901',
    )
  })

  it('of the families for contacts and of large sites are frozen', () => {
    expect(seedListHash('test', contactFamilies)).toBe(
      '67bf88027d8a4254851560a75afac9e4ae5092ff83594c8a6e32e2b9841cd249',
    )
    expect(seedListHash('test', largeFamilies)).toBe(
      '59ddb20ea0fb81af2aca1d01b7bebac3885234da78206a9b3ff252aa0981a7d5',
    )
  })
})

describe('poor contacts by lot', () => {
  it('are drawn with every factor, and nowhere else', () => {
    const drawn = contactFamilies.flatMap((family) =>
      Array.from({ length: 12 }, (_, k) => drawScenario(family, seedOf('dev', family, k)).contactFactor),
    )
    expect([...new Set(drawn)].sort()).toEqual([...contactFactors])
    expect(drawScenario(families[0], seedOf('dev', families[0], 0)).contactFactor).toBe(1)
  })

  it('come as often as the factor says', () => {
    const share = (factor: number) => {
      const random = randomStream(5)
      const spots = [spotOn('B1'), spotOn('R1/T1/L1.1')]
      const poor = Array.from({ length: 20_000 }, () =>
        drawContactAt(factor, 'twoWire', spots, false, random),
      )
      // sound clips add more than 60 mΩ once in ten thousand times
      return poor.filter((ohm) => ohm > 0.06).length / poor.length
    }
    expect(share(3) / share(1)).toBeCloseTo(3, 0)
    expect(share(0.3) / share(1)).toBeCloseTo(0.3, 1)
  })
})
