import { present } from '../../../src/base/assert.ts'
import { siteFormat, siteVersion, type Site } from '../../../src/model/schema/site.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import type { Kit, Lead } from '../../../src/model/schema/record.ts'
import { fieldDrawing } from '../../generator/fieldDrawing.ts'
import { roofDrawing } from '../../generator/roofDrawing.ts'
import { fourWireKit, longLead, twoWireKit } from '../../generator/testKits.ts'
import { trackerDrawing } from '../../generator/trackerDrawing.ts'
import { largeDrawing } from '../locate/largeField.ts'
import { drawScenario } from '../locating/generator/drawScenario.ts'
import { families } from '../locating/generator/families.ts'
import { seedOf } from '../locating/generator/seeds.ts'

/** A site with nothing recorded, and what it is measured with. */
export interface BenchSite {
  readonly name: string
  readonly site: Site
  readonly kit: Kit
  readonly lead: Lead | null
}

const ids = {
  site: '00000000-0000-4000-8000-000000000001',
  revision: '00000000-0000-4000-8000-000000000002',
}

const siteOf = (name: string, drawing: Drawing): Site => ({
  format: siteFormat,
  version: siteVersion,
  id: ids.site,
  name,
  drawing,
  record: [],
})

const withA = { kit: twoWireKit, lead: longLead }
const withB = { kit: fourWireKit, lead: longLead }

const named: Readonly<Record<string, () => BenchSite>> = {
  'roof, B': () => ({ name: 'roof, B', site: siteOf('roof', roofDrawing(ids)), ...withB }),
  'one row, A': () => ({ name: 'one row, A', site: siteOf('one row', largeDrawing(1, 6)), ...withA }),
  'one row, B': () => ({ name: 'one row, B', site: siteOf('one row', largeDrawing(1, 6)), ...withB }),
  'field, A': () => ({ name: 'field, A', site: siteOf('field', fieldDrawing(ids)), ...withA }),
  'field, B': () => ({ name: 'field, B', site: siteOf('field', fieldDrawing(ids)), ...withB }),
  '12 × 12 tables, A': () => ({
    name: '12 × 12 tables, A',
    site: siteOf('12 × 12 tables', largeDrawing(12, 12)),
    ...withA,
  }),
  'tracker, A': () => ({ name: 'tracker, A', site: siteOf('tracker', trackerDrawing(ids)), ...withA }),
  'tracker, B': () => ({ name: 'tracker, B', site: siteOf('tracker', trackerDrawing(ids)), ...withB }),
}

/** Sites drawn by lot are those of the locating benchmark's development seeds: their shapes, not what is wrong with them. */
function drawnSite(k: number): BenchSite {
  const family = present(families[k % (families.length - 1)], 'a family')
  const { site } = drawScenario(family, seedOf('dev', family, 900 + Math.floor(k / (families.length - 1))))
  const lead = family.kit.method === 'twoWire' || family.kit.method === 'fourWire' ? longLead : null
  const name = `by lot ${k + 1}: ${family.name}`
  return { name, site: { ...site, record: [] }, kit: family.kit, lead }
}

/** Sites drawn by lot: two of each family without a loop clamp. */
const drawn = 14

export const benchSiteNames: readonly string[] = [
  ...Object.keys(named),
  ...Array.from({ length: drawn }, (_, k) => `by lot ${k + 1}`),
]

export function benchSite(name: string): BenchSite {
  const known = named[name]
  return known ? known() : drawnSite(Number(name.replace('by lot ', '')) - 1)
}
