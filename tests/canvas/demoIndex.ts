import { readFileSync } from 'node:fs'
import { openSite } from '../../src/files/openSite.ts'
import { indexSite, type SiteIndex } from '../../src/layout/siteIndex.ts'

/** The index of a demo site as it lies in demo-data. */
export function demoIndex(name: 'field' | 'roof' | 'tracker'): SiteIndex {
  const opened = openSite(readFileSync(new URL(`../../demo-data/${name}.json`, import.meta.url)), name)
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const index = indexSite(opened.value.drawing)
  if (!index.ok) throw new Error(JSON.stringify(index.error))
  return index.value
}
