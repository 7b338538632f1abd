import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { finish } from '../../src/engine/progress.ts'
import { emptySiteCache, preparedOf, replaceDrawing } from '../../src/engine/siteCache.ts'
import { addPlan } from '../../src/model/edits/plans.ts'
import { changeFacts } from '../../src/model/edits/facts.ts'
import { openSite } from '../../src/files/openSite.ts'

const asFound = { countIncidental: true, asBuilt: true }

it('a drawing in which only a plan differs needs no new network, one with another soil does', () => {
  const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field')
  if (!opened.ok) throw new Error('the demo opens')
  const site = opened.value
  const cache = emptySiteCache()
  const networkOf = (drawing: typeof site.drawing) => {
    const made = finish(preparedOf(drawing, asFound, cache))
    if (!made.ok) throw new Error('the demo is in order')
    return made.value
  }
  const first = networkOf(site.drawing)
  const planned = addPlan({ id: 'other', name: 'Other', note: '' })(site)
  expect(planned.drawing).not.toBe(site.drawing)
  const revised = { ...planned.drawing, revision: 'x', parent: site.drawing.revision }
  replaceDrawing(cache, site.drawing, revised)
  expect(networkOf(revised)).toBe(first)
  const wetter = changeFacts({ soilOhmM: site.drawing.facts.soilOhmM / 2 })(planned)
  replaceDrawing(cache, revised, wetter.drawing)
  expect(networkOf(wetter.drawing)).not.toBe(first)
})

it('a network that is counted otherwise is made of the index that was there before a plan changed', () => {
  const opened = openSite(readFileSync(new URL('../../demo-data/roof.json', import.meta.url)), 'roof')
  if (!opened.ok) throw new Error('the demo opens')
  const site = opened.value
  const cache = emptySiteCache()
  expect(finish(preparedOf(site.drawing, asFound, cache)).ok).toBe(true)
  const planned = addPlan({ id: 'other', name: 'Other', note: '' })(site)
  replaceDrawing(cache, site.drawing, planned.drawing)
  const relied = finish(preparedOf(planned.drawing, { ...asFound, countIncidental: false }, cache))
  expect(relied.ok).toBe(true)
})
