import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../../src/files/openSite.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { parsePartAddress } from '../../../src/model/address.ts'
import { checkSite, siteNotices } from '../../../src/model/checkSite.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { allDrawn, findDrawn, isSameItem } from '../../../src/model/drawnItem.ts'
import { addedItems, canCopyItems, copyItems } from '../../../src/model/edits/copyItems.ts'
import { canMoveItems, canTurnItems, moveItems, turnItems } from '../../../src/model/edits/moveItems.ts'
import { orphansOf } from '../../../src/model/edits/orphans.ts'
import { canRemoveItems, removeItems } from '../../../src/model/edits/removeItems.ts'
import { addRow } from '../../../src/model/edits/rows.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { siteSchema } from '../../../src/model/schema/site.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'
import { anySite, anySiteAndItems } from './anySite.ts'

const site = deepFreeze(exampleSite())
const runs = { numRuns: 80, seed: 11 }

function expectValid(edited: Site) {
  expect(siteSchema.safeParse(edited).error?.issues).toBeUndefined()
  expect(checkSite(edited)).toEqual([])
}

function expectOpensAgain(edited: Site) {
  const opened = openSite(new TextEncoder().encode(saveSite(edited)), 'edited')
  expect(opened.ok && opened.value).toEqual(edited)
}

/** Things that were not named keep their identity, but for conductors, which may follow. */
function expectOthersKept(before: Site, after: Site, items: readonly DrawnItem[]) {
  for (const other of allDrawn(before.drawing)) {
    if (other.sort === 'conductor' || items.some((item) => isSameItem(item, other))) continue
    expect(findDrawn(after.drawing, other.sort, other.id)).toBe(
      findDrawn(before.drawing, other.sort, other.id),
    )
  }
}

const row1: DrawnItem = { sort: 'row', id: 1 }
const inverter: DrawnItem = { sort: 'enclosure', id: 1 }
const bar: DrawnItem = { sort: 'earthBar', id: 1 }
const wire: DrawnItem = { sort: 'conductor', id: 1 }

describe('moving things', () => {
  it('takes along what lands on them, and leaves bends and other ends', () => {
    const edited = moveItems({ items: [row1, bar], byM: { x: 10, y: -1 } })(site)
    expectValid(edited)
    expect(edited.drawing.rows[0]).toMatchObject({ originM: { x: 10, y: -1 }, bearingDeg: 90 })
    expect(edited.drawing.earthBars[0].atM).toEqual({ x: 7, y: 2 })
    expect(edited.drawing.conductors[0].points.map(({ atM }) => [atM.x, atM.y])).toEqual([
      [10, -1],
      [-2, 1],
      [-3, 2],
      [7, 2],
    ])
    expect(edited.drawing.conductors[1].points.map(({ atM }) => [atM.x, atM.y])).toEqual([
      [7, 2],
      [-4, 4],
    ])
    expect(edited.drawing.conductors[0].points[1]).toBe(site.drawing.conductors[0].points[1])
    expect(edited.record).toBe(site.record)
  })

  it('leaves the points of a conductor that land on what stays, and what lands on those with them', () => {
    const points = site.drawing.conductors[1].points
    const onWire = { ...points[1], landing: { part: 'C1.1', kind: 'crimpLug' } }
    const conductors = site.drawing.conductors.with(1, {
      ...site.drawing.conductors[1],
      points: [points[0], onWire],
    })
    const joined = deepFreeze({ ...site, drawing: { ...site.drawing, conductors } })
    expectValid(joined)
    const edited = moveItems({ items: [wire], byM: { x: 1, y: 1 } })(joined)
    const before = joined.drawing.conductors[0].points
    expect(before.filter(({ landing }) => landing)).not.toHaveLength(0)
    expect(edited.drawing.conductors[0].points.map(({ atM }) => atM)).toEqual(
      before.map(({ atM, landing }) => (landing ? atM : { x: atM.x + 1, y: atM.y + 1 })),
    )
    expect(edited.drawing.conductors[1]).toBe(joined.drawing.conductors[1])
    // together with what it lands on it goes whole
    const all = moveItems({ items: [wire, row1, inverter, bar], byM: { x: 1, y: 1 } })(joined)
    expect(all.drawing.conductors[0].points.map(({ atM }) => atM)).toEqual(
      before.map(({ atM }) => ({ x: atM.x + 1, y: atM.y + 1 })),
    )
    // and by way of the row that the wire lands on
    const byRow = moveItems({ items: [row1], byM: { x: 1, y: 1 } })(joined)
    expect(byRow.drawing.conductors[1].points[1].atM).toEqual({ x: -3, y: 5 })
  })

  it('keeps places to a tenth of a millimetre and never below nought as −0', () => {
    let moved = moveItems({ items: [row1], byM: { x: 0.1, y: -0.00004 } })(site)
    for (let k = 0; k < 9; k++) moved = moveItems({ items: [row1], byM: { x: 0.1, y: -0.00004 } })(moved)
    expect(moved.drawing.rows[0].originM).toEqual({ x: 1, y: 0 })
    expect(Object.is(moved.drawing.rows[0].originM.y, 0)).toBe(true)
  })

  it('is refused for what is not there or would lie beyond the plan, and does nothing by nothing', () => {
    expect(canMoveItems(site, { items: [{ sort: 'row', id: 2 }], byM: { x: 1, y: 0 } })).toMatchObject({
      code: 'edit.notThere',
      facts: { what: 'row', id: '2' },
    })
    expect(canMoveItems(site, { items: [bar], byM: { x: 1e6, y: 0 } })).toMatchObject({
      code: 'value.outOfRange',
    })
    expect(canMoveItems(site, { items: [bar], byM: { x: NaN, y: 0 } })).not.toBe(true)
    expect(moveItems({ items: [bar], byM: { x: 1e6, y: 0 } })(site)).toBe(site)
    expect(moveItems({ items: [row1], byM: { x: 0, y: 0 } })(site)).toBe(site)
    expect(moveItems({ items: [row1], byM: { x: 0.00001, y: 0 } })(site)).toBe(site)
    expect(moveItems({ items: [], byM: { x: 1, y: 0 } })(site)).toBe(site)
  })

  it('there and back leaves any site as it was', () => {
    fc.assert(
      fc.property(anySiteAndItems, fc.integer({ min: -90_000, max: 90_000 }), ({ site, items }, tenths) => {
        const byM = { x: tenths / 10_000, y: -tenths / 5000 }
        const there = deepFreeze(moveItems({ items, byM })(site))
        expectValid(there)
        expectOthersKept(site, there, items)
        expect(orphansOf(site, moveItems({ items, byM }))).toEqual([])
        const back = moveItems({ items, byM: { x: -byM.x, y: -byM.y } })(there)
        expect(back).toEqual(site)
        if (tenths !== 0) expectOpensAgain(there)
      }),
      runs,
    )
  })
})

describe('turning things', () => {
  it('turns clockwise about the point, bearings with it', () => {
    const edited = turnItems({ items: [row1, inverter], byDeg: 90, aboutM: { x: -3, y: 0 } })(site)
    expectValid(edited)
    expect(edited.drawing.rows[0]).toMatchObject({ originM: { x: -3, y: -3 }, bearingDeg: 180 })
    expect(edited.drawing.enclosures[0]).toMatchObject({ atM: { x: -2, y: 0 }, bearingDeg: 180 })
    expect(edited.drawing.conductors[0].points[0].atM).toEqual({ x: -3, y: -3 })
    const back = turnItems({ items: [row1], byDeg: -120, aboutM: { x: 0, y: 0 } })(site)
    expect(back.drawing.rows[0].bearingDeg).toBe(330)
    const path = turnItems({ items: [{ sort: 'aisle', id: 1 }], byDeg: 45, aboutM: { x: 0, y: 8 } })(site)
    expect(path.drawing.aisles[0].pathM).toEqual([
      { x: 0, y: 8 },
      { x: 14.1421, y: -6.1421 },
    ])
    expect(turnItems({ items: [row1], byDeg: 720, aboutM: { x: 0, y: 0 } })(site)).toBe(site)
    expect(canTurnItems(site, { items: [row1], byDeg: NaN, aboutM: { x: 0, y: 0 } })).not.toBe(true)
  })

  it('four times by a quarter leaves any site as it was, about whatever point', () => {
    const about = fc.record({
      x: fc.double({ min: -50, max: 50, noNaN: true }),
      y: fc.double({ min: -50, max: 50, noNaN: true }),
    })
    fc.assert(
      fc.property(anySiteAndItems, about, fc.constantFrom(90, -90, 450), ({ site, items }, aboutM, byDeg) => {
        let turned = site
        for (let k = 0; k < 4; k++) {
          turned = deepFreeze(turnItems({ items, byDeg, aboutM })(turned))
          expectValid(turned)
          expectOthersKept(site, turned, items)
        }
        expect(turned).toEqual(site)
      }),
      runs,
    )
  })
})

describe('removing things', () => {
  it('is one edit over all sorts, which lets go what was fastened to them', () => {
    const items = [row1, bar, { sort: 'aisle', id: 1 } as const, wire]
    const edited = removeItems({ items })(site)
    expectValid(edited)
    const { drawing } = edited
    expect(drawing.rows.map(({ id }) => id)).toEqual([3])
    expect([drawing.earthBars, drawing.aisles, drawing.extraJoints]).toEqual([[], [], []])
    expect(drawing.conductors.map(({ id }) => id)).toEqual([2])
    expect(drawing.conductors[0].points[0].landing).toBeNull()
    expect(drawing.obstacles).toBe(site.drawing.obstacles)
    expect(drawing.nextIds).toBe(site.drawing.nextIds)
    expect(edited.record).toBe(site.record)
    expect(canRemoveItems(edited, { items: [row1] })).toMatchObject({ code: 'edit.notThere' })
    expect(removeItems({ items: [] })(site)).toBe(site)
  })

  it('of any choice leaves a site that opens', () => {
    fc.assert(
      fc.property(anySiteAndItems, ({ site, items }) => {
        const edited = deepFreeze(removeItems({ items })(site))
        expectValid(edited)
        expectOthersKept(site, edited, items)
        expect(allDrawn(edited.drawing)).toHaveLength(allDrawn(site.drawing).length - items.length)
        expectOpensAgain(edited)
      }),
      runs,
    )
  })
})

describe('copying things', () => {
  it('numbers tables afresh, counts labels up and rewrites what lands on the copy', () => {
    const items: DrawnItem[] = [row1, inverter, wire]
    const edited = copyItems({ items, byM: { x: 0, y: 20 }, times: 2 })(site)
    expectValid(edited)
    const { drawing } = edited
    expect(drawing.rows.slice(2)).toMatchObject([
      { id: 4, label: 'A 2', originM: { x: 0, y: 20 }, nextTable: 5, tableLabels: {} },
      { id: 5, label: 'A 3', originM: { x: 0, y: 40 } },
    ])
    expect(drawing.rows[2].runs).toEqual([{ firstTable: 1, count: 4, type: 'fixed' }])
    expect(drawing.rows[3].runs).toBe(drawing.rows[2].runs)
    expect(drawing.enclosures.map(({ id, label }) => [id, label])).toEqual([
      [1, 'inverter 1'],
      [2, 'inverter 2'],
      [3, 'inverter 3'],
    ])
    // The bar is not copied: that landing is let go. Points are numbered along the copy.
    expect(drawing.conductors[2]).toMatchObject({ id: 3, label: 'row A to bar 2', nextPoint: 5 })
    expect(drawing.conductors[2].points.map(({ id, landing }) => [id, landing?.part ?? null])).toEqual([
      [1, 'R4/T1/L1.1'],
      [2, null],
      [3, 'E2'],
      [4, null],
    ])
    expect(drawing.conductors[3].points[0].landing?.part).toBe('R5/T1/L1.1')
    // The table 2, then 4 of row 1 are the second and third of the copy.
    expect(drawing.differingJoints.slice(2).map(({ joint }) => joint)).toEqual(['R4/T2+T3~2', 'R5/T2+T3~2'])
    // The extra joint has its other end in row 3, which is not copied.
    expect(drawing.extraJoints).toBe(site.drawing.extraJoints)
    expect(addedItems(site.drawing, drawing)).toEqual([
      { sort: 'row', id: 4 },
      { sort: 'row', id: 5 },
      { sort: 'enclosure', id: 2 },
      { sort: 'enclosure', id: 3 },
      { sort: 'conductor', id: 3 },
      { sort: 'conductor', id: 4 },
    ])
    expect(siteNotices(edited)).toEqual(siteNotices(site))
  })

  it('copies extra joints between copied things, and no measured resistance', () => {
    const items: DrawnItem[] = [row1, { sort: 'row', id: 3 }, { sort: 'electrode', id: 1 }]
    const edited = copyItems({ items, byM: { x: 100, y: 0 }, times: 1 })(site)
    expectValid(edited)
    expect(edited.drawing.extraJoints[1]).toEqual({
      id: 2,
      label: 'drive shaft 2',
      from: 'R5/T1/L1.3',
      to: 'R4/T1/X1',
      kind: 'bracket',
      medianOhm: 0.002,
    })
    expect(edited.drawing.electrodes[3]).toMatchObject({ id: 4, label: 'rod 2', measuredOhm: null })
    expect(edited.drawing.differingJoints.map(({ joint }) => joint)).toContain('R5/T2/L1.3~P1.2')
  })

  it('is refused beyond the limits before anything is made', () => {
    const byM = { x: 0, y: 10 }
    const started = performance.now()
    expect(canCopyItems(site, { items: [row1], byM, times: 1_000_000_000 })).toMatchObject({
      code: 'size.tooMany',
      facts: { what: 'items in rows', most: 20_000 },
    })
    const long = addRow({
      label: 'long',
      originM: { x: 0, y: 0 },
      bearingDeg: 90,
      gapM: 0.2,
      type: 'tracker',
      tables: 10_000,
      links: { count: 1, kind: 'jumper' },
    })(site)
    const items = [{ sort: 'row', id: 4 } as const]
    expect(canCopyItems(long, { items, byM, times: 15_000 })).toMatchObject({ code: 'size.tooManyJoints' })
    expect(canCopyItems(long, { items, byM, times: 5 })).toBe(true)
    for (const times of [0, -1, 1.5, NaN, Infinity]) {
      expect(canCopyItems(site, { items: [row1], byM, times })).toMatchObject({
        code: 'value.outOfRange',
        where: { path: ['times'] },
      })
    }
    expect(performance.now() - started).toBeLessThan(10_000)
    expect(copyItems({ items: [], byM, times: 3 })(site)).toBe(site)
  })

  it('makes 1,000 copies of a row of 100 tables in a moment', () => {
    const row = addRow({
      label: 'Row 1',
      originM: { x: 0, y: 0 },
      bearingDeg: 90,
      gapM: 0.2,
      type: 'tracker',
      tables: 100,
      links: { count: 1, kind: 'jumper' },
    })(site)
    const started = performance.now()
    const edited = copyItems({ items: [{ sort: 'row', id: 4 }], byM: { x: 0, y: 5.5 }, times: 1000 })(row)
    const tookMs = performance.now() - started
    expect(edited.drawing.rows).toHaveLength(1003)
    expect(edited.drawing.rows.at(-1)).toMatchObject({
      id: 1004,
      label: 'Row 1001',
      originM: { x: 0, y: 5500 },
    })
    expect(checkSite(edited)).toEqual([])
    expect(tookMs).toBeLessThan(5000)
  })

  it('then removing the copies leaves any site as it was but for its counters', () => {
    fc.assert(
      fc.property(anySiteAndItems, fc.integer({ min: 1, max: 3 }), ({ site, items }, times) => {
        const copied = deepFreeze(copyItems({ items, byM: { x: 50, y: 1 }, times })(site))
        expectValid(copied)
        expectOthersKept(site, copied, [])
        const added = addedItems(site.drawing, copied.drawing)
        expect(added).toHaveLength(times * items.length)
        expectOpensAgain(copied)
        const removed = removeItems({ items: added })(copied)
        expectValid(removed)
        // Differing joints stay where the thing is gone: they are told, not lost.
        const left = removed.drawing.differingJoints.slice(0, site.drawing.differingJoints.length)
        const { nextIds } = site.drawing
        const same: Drawing = { ...removed.drawing, nextIds, differingJoints: left }
        expect(same).toEqual(site.drawing)
        for (const [sort, id] of Object.entries(removed.drawing.nextIds)) {
          expect(id).toBeGreaterThanOrEqual(nextIds[sort as keyof typeof nextIds])
        }
        const again = copyItems({ items, byM: { x: 50, y: 1 }, times: 1 })(removed)
        for (const item of addedItems(removed.drawing, again.drawing)) {
          expect(added.some((old) => isSameItem(old, item))).toBe(false)
        }
      }),
      runs,
    )
  })

  it('lands the copies as the originals land, wherever both are copied', () => {
    fc.assert(
      fc.property(anySite, (site) => {
        const items = allDrawn(site.drawing)
        const { drawing } = copyItems({ items, byM: { x: 50, y: 0 }, times: 1 })(site)
        expect(drawing.extraJoints).toHaveLength(2 * site.drawing.extraJoints.length)
        expect(drawing.differingJoints).toHaveLength(2 * site.drawing.differingJoints.length)
        site.drawing.conductors.forEach((old, k) => {
          const copy = drawing.conductors[site.drawing.conductors.length + k]
          old.points.forEach(({ landing, atM }, p) => {
            const at = copy.points[p]
            expect(at.atM.x).toBeCloseTo(atM.x + 50, 4)
            expect(at.landing?.kind).toBe(landing?.kind)
            if (landing)
              expect(parsePartAddress(at.landing!.part)!.at).toBe(parsePartAddress(landing.part)!.at)
          })
        })
      }),
      runs,
    )
  })
})
