import { describe, expect, it } from 'vitest'
import { catalogueLnError } from './catalogueError.ts'
import { drawScenario } from './generator/drawScenario.ts'
import { families } from './generator/families.ts'
import { typedSite } from './typedSite.ts'

describe('how far the catalogue is off', () => {
  const scenario = drawScenario(families[0], 0x10000000 + 100_004)
  const typed = typedSite(scenario.site)
  const all = (factor: number) => scenario.levels.map(() => factor)

  it('is nothing where all levels are the catalogue’s, and their common factor where they share one', () => {
    expect(catalogueLnError({ ...scenario, levels: all(1) }, typed)).toBeCloseTo(0, 12)
    expect(catalogueLnError({ ...scenario, levels: all(1.5) }, typed)).toBeCloseTo(Math.log(1.5), 12)
  })

  it('lies between the least and the largest of the kinds', () => {
    const lns = scenario.levels.map(Math.log)
    const off = catalogueLnError(scenario, typed)
    expect(off).toBeGreaterThanOrEqual(Math.min(...lns))
    expect(off).toBeLessThanOrEqual(Math.max(...lns))
  })
})
