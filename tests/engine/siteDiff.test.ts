import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { changedList, listChange } from '../../src/engine/listChange.ts'
import { changedSite, siteChange, type SiteChange } from '../../src/engine/siteDiff.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { rowSite, starOfRows, withReadings } from '../locate/rowSite.ts'
import { smallSite } from './smallSite.ts'

/** As a message between two threads: what comes out is equal, and no object of what went in. */
const sent = <T>(value: T): T => structuredClone(value)

describe('a list', () => {
  /** Lists of objects drawn from one pool, so that two of them share some. */
  const twoLists = fc.integer({ min: 1, max: 12 }).chain((size) => {
    const some = fc.uniqueArray(fc.nat(size))
    return fc.tuple(fc.constant(size), some, some)
  })

  it('becomes the other again, and what stays is the same object', () => {
    fc.assert(
      fc.property(twoLists, ([size, one, other]) => {
        const pool = Array.from({ length: size + 1 }, (_, k) => ({ k }))
        const previous = one.map((k) => pool[k])
        const next = other.map((k) => pool[k])
        // the receiver's list has objects of its own
        const held = previous.map((item) => ({ ...item }))
        const made = changedList(held, sent(listChange(previous, next)))
        expect(made).toEqual(next)
        made.forEach((item, k) => {
          if (previous.includes(next[k])) expect(held).toContain(item)
          else expect(held).not.toContain(item)
        })
      }),
      { seed: 4711, numRuns: 500 },
    )
  })

  it('that one item was put into, changed in or taken from is told in three pieces at most', () => {
    const list = Array.from({ length: 1000 }, (_, k) => ({ k }))
    const other = { k: -1 }
    expect(listChange(list, list.toSpliced(500, 0, other))).toEqual([
      { keep: 0, count: 500 },
      { add: [other] },
      { keep: 500, count: 500 },
    ])
    expect(listChange(list, list.with(0, other))).toEqual([{ add: [other] }, { keep: 1, count: 999 }])
    expect(listChange(list, list.toSpliced(999, 1))).toEqual([{ keep: 0, count: 999 }])
    expect(listChange(list, [...list, other])).toEqual([{ keep: 0, count: 1000 }, { add: [other] }])
    expect(listChange(list, [])).toEqual([])
  })
})

describe('a site', () => {
  const first = withReadings(
    rowSite(),
    starOfRows(() => 0.02),
  )

  /** Small changes of a site, each as an edit makes them: replaced, never changed in place. */
  const edits: readonly ((site: Site, k: number) => Site)[] = [
    (site, k) => ({ ...site, record: [...site.record, { ...site.record[0], id: `added ${k}` }] }),
    (site, k) => ({ ...site, name: `site ${k}` }),
    (site, k) => redrawn(site, { facts: { ...site.drawing.facts, soilOhmM: 1 + k } }),
    (site, k) => {
      const at = k % Math.max(1, site.drawing.rows.length)
      const row = site.drawing.rows[at]
      return row ? redrawn(site, { rows: site.drawing.rows.with(at, { ...row, label: `row ${k}` }) }) : site
    },
    (site, k) => redrawn(site, { rows: site.drawing.rows.toSpliced(k % 3, 1) }),
    (site, k) => {
      const row = first.drawing.rows[k % 2]
      return redrawn(site, { rows: site.drawing.rows.toSpliced(k % 3, 0, { ...row, id: 100 + k }) })
    },
    (site) => redrawn(site, { rows: site.drawing.rows.toReversed() }),
    (site) => redrawn(site, { conductors: [] }),
    (site) => site,
    () => first,
  ]
  function redrawn(site: Site, change: Partial<Site['drawing']>): Site {
    return { ...site, drawing: { ...site.drawing, ...change } }
  }

  it('follows any run of edits, and keeps the identity of rows and drawings that stay', () => {
    const runs = fc.array(fc.tuple(fc.nat(edits.length - 1), fc.nat(50)), { maxLength: 20 })
    fc.assert(
      fc.property(runs, (run) => {
        let page: Site = first
        let held = changedSite(null, sent(siteChange(null, page)))!
        for (const [which, k] of run) {
          const next = edits[which](page, k)
          const before = held
          held = changedSite(held, sent(siteChange(page, next)))!
          expect(held).toEqual(next)
          if (next.drawing === page.drawing) expect(held.drawing).toBe(before.drawing)
          next.drawing.rows.forEach((row, at) => {
            const was = page.drawing.rows.indexOf(row)
            if (was >= 0) expect(held.drawing.rows[at]).toBe(before.drawing.rows[was])
          })
          page = next
        }
      }),
      { seed: 4712, numRuns: 200 },
    )
  })

  it('with one more entry is told by that entry alone', () => {
    const entry = { ...first.record[0], id: 'one more' }
    const change = siteChange(first, { ...first, record: [...first.record, entry] })
    expect(change).toEqual({
      form: 'parts',
      name: first.name,
      drawing: null,
      record: [{ keep: 0, count: first.record.length }, { add: [entry] }],
    } satisfies SiteChange)
  })

  it('with one other row is told by that row alone', () => {
    const { rows } = first.drawing
    const row = { ...rows[1], label: 'east' }
    const change = siteChange(first, redrawn(first, { rows: rows.with(1, row) }))
    const list = [{ keep: 0, count: 1 }, { add: [row] }]
    expect(change).toEqual({ form: 'parts', name: first.name, record: null, drawing: { rows: { list } } })
  })

  it('that is another one is told whole, and none is told as closed', () => {
    const other = smallSite()
    expect(other.id).toBe(first.id)
    const renamed = { ...other, id: '00000000-0000-4000-8000-0000000000ff' }
    expect(siteChange(first, renamed)).toEqual({ form: 'whole', site: renamed })
    expect(changedSite(first, siteChange(first, null))).toBeNull()
  })
})
