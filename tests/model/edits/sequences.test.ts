import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { openSite } from '../../../src/files/openSite.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { siteSchema } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'
import { anyEdit } from './anyEdit.ts'

const edited: (keyof Drawing)[] = ['rows', 'conductors', 'electrodes', 'plans', 'tableTypes', 'extraJoints']

/** Ids of one section that stand in either site, with what they name in each. */
function identities(before: Site, after: Site, key: keyof Drawing): [unknown, unknown][] {
  const items = (site: Site) => site.drawing[key] as readonly { readonly id: unknown }[]
  const old = new Map(items(before).map((item) => [item.id, item]))
  return items(after).map((item) => [old.get(item.id), item])
}

describe('any sequence of edits', () => {
  it('leaves a site that opens again, counts ids up only, and touches no record', () => {
    let made = 0
    let refused = 0
    for (let seed = 1; seed <= 60; seed++) {
      const random = randomStream(seed)
      let site = deepFreeze(exampleSite())
      const { record } = site
      for (let step = 0; step < 40; step++) {
        const next = deepFreeze(anyEdit(random)(site))
        if (next === site) {
          refused++
          continue
        }
        made++
        expect(next.record).toBe(record)
        expect(next).not.toEqual(site)
        expect(checkSite(next)).toEqual([])
        for (const [sort, id] of Object.entries(next.drawing.nextIds)) {
          expect(id).toBeGreaterThanOrEqual(site.drawing.nextIds[sort as keyof typeof site.drawing.nextIds])
        }
        site = next
      }
      const parsed = siteSchema.safeParse(site)
      expect(parsed.error?.issues).toBeUndefined()
      const opened = openSite(new TextEncoder().encode(saveSite(site)), 'edited')
      expect(opened.ok && opened.value).toEqual(site)
    }
    // The edits are meant to be a mixture: were nearly all refused, the rest would prove little.
    expect(made).toBeGreaterThan(600)
    expect(refused).toBeGreaterThan(200)
  })

  it('keeps the identity of items that stay as they were', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = randomStream(1000 + seed)
      let site = deepFreeze(exampleSite())
      for (let step = 0; step < 20; step++) {
        const next = anyEdit(random)(site)
        for (const key of edited) {
          for (const [old, item] of identities(site, next, key)) {
            if (old !== undefined && old !== item) expect(item).not.toEqual(old)
          }
        }
        site = next
      }
    }
  })
})
