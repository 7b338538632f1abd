import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../../src/files/openSite.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import { otherKinds, readCopied, takeCopy } from '../../../src/model/copied.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { allDrawn } from '../../../src/model/drawnItem.ts'
import { addedItems, copyItems } from '../../../src/model/edits/copyItems.ts'
import { addJointKind, changeJointKind } from '../../../src/model/edits/jointKinds.ts'
import { canPasteCopy, pasteCopy } from '../../../src/model/edits/pasteCopy.ts'
import { addTableType } from '../../../src/model/edits/tableTypes.ts'
import { newSite } from '../../../src/model/newSite.ts'
import { siteSchema } from '../../../src/model/schema/site.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite, fixedTilt, tracker, uuid } from '../exampleSite.ts'
import { anySite, anySiteAndItems } from './anySite.ts'

const site = deepFreeze(exampleSite())
const bare = deepFreeze(newSite({ id: uuid(7), revision: uuid(8), name: 'Bare', units: 'metric' }))
const items: readonly DrawnItem[] = [
  { sort: 'row', id: 1 },
  { sort: 'row', id: 3 },
  { sort: 'enclosure', id: 1 },
  { sort: 'conductor', id: 1 },
]

function expectValid(edited: Site) {
  expect(siteSchema.safeParse(edited).error?.issues).toBeUndefined()
  expect(checkSite(edited)).toEqual([])
}

function viaClipboard(value: unknown) {
  const read = readCopied(JSON.parse(JSON.stringify(value)))
  if (!read.ok) throw new Error(read.error.code)
  return deepFreeze(read.value)
}

describe('what is taken', () => {
  it('is complete in itself: the types and kinds that it names, and no landing elsewhere', () => {
    const copied = takeCopy(site, items)
    expect(copied.tableTypes).toEqual([fixedTilt, tracker])
    expect(copied.jointKinds.map(({ id }) => id).sort()).toEqual(
      ['bracket', 'crimpLug', 'frameClamp', 'frameLink', 'incidental', 'jumper', 'layInLug', 'splice'].sort(),
    )
    expect(copied.conductors[0].points.map(({ landing }) => landing?.part)).toEqual([
      'R1/T1/L1.1',
      undefined,
      'E1',
      undefined,
    ])
    expect(copied.extraJoints).toEqual(site.drawing.extraJoints)
    expect(takeCopy(site, [{ sort: 'row', id: 99 }]).rows).toEqual([])
  })

  it('comes back from a clipboard, and nothing else does', () => {
    expect(viaClipboard(takeCopy(site, items))).toEqual(takeCopy(site, items))
    for (const foreign of [null, 'text', 7, [], {}, { rows: [] }, { ...takeCopy(site, items), more: 1 }]) {
      expect(readCopied(foreign).ok).toBe(false)
    }
    const broken = { ...takeCopy(site, items), rows: [{ id: 1 }] }
    expect(readCopied(broken)).toMatchObject({ ok: false, error: { where: { path: ['rows', 0, 'label'] } } })
  })
})

describe('pasting', () => {
  it('into the same site is copying', () => {
    fc.assert(
      fc.property(anySiteAndItems, ({ site, items }) => {
        const byM = { x: 3, y: -40 }
        const pasted = pasteCopy({ copied: viaClipboard(takeCopy(site, items)), byM })(site)
        expect(pasted).toEqual(copyItems({ items, byM, times: 1 })(site))
      }),
      { numRuns: 60, seed: 3 },
    )
  })

  it('into another site brings types and kinds along and keeps free labels', () => {
    const pasted = pasteCopy({ copied: takeCopy(site, items), byM: { x: 0, y: 0 } })(bare)
    expectValid(pasted)
    const { drawing } = pasted
    expect(drawing.rows.map(({ id, label }) => [id, label])).toEqual([
      [1, 'A'],
      [2, 'B'],
    ])
    expect(drawing.tableTypes).toEqual([fixedTilt, tracker])
    expect(drawing.jointKinds).toBe(bare.drawing.jointKinds)
    expect(drawing.conductors[0].points[0].landing?.part).toBe('R1/T1/L1.1')
    expect(drawing.extraJoints[0]).toMatchObject({
      id: 1,
      label: 'drive shaft',
      from: 'R2/T1/L1.3',
      to: 'R1/T1/X1',
    })
    expect(drawing.differingJoints.map(({ joint }) => joint)).toEqual(['R1/T2+T3~2', 'R2/T2/L1.3~P1.2'])
    expect(pasted.record).toBe(bare.record)
    const opened = openSite(new TextEncoder().encode(saveSite(pasted)), 'pasted')
    expect(opened.ok && opened.value).toEqual(pasted)
    // Once more: everything is there by now.
    const twice = pasteCopy({ copied: takeCopy(site, items), byM: { x: 0, y: 0 } })(pasted)
    expect(twice.drawing.tableTypes).toBe(drawing.tableTypes)
    expect(twice.drawing.rows.map(({ label }) => label)).toEqual(['A', 'B', 'A 2', 'B 2'])
  })

  it('gives a type another short name where the site means something else by it, and finds one that is the same', () => {
    const other = { ...fixedTilt, tiltDeg: 10 }
    const same = { ...tracker, id: 'oneAxis' }
    const own = addTableType(same)(addTableType(other)(bare))
    const pasted = pasteCopy({ copied: takeCopy(site, items), byM: { x: 0, y: 0 } })(own)
    expectValid(pasted)
    expect(pasted.drawing.tableTypes).toEqual([other, same, { ...fixedTilt, id: 'fixed-2' }])
    expect(pasted.drawing.rows.map(({ runs }) => runs[0].type)).toEqual(['fixed-2', 'oneAxis'])
  })

  it('adds kinds that are missing and keeps the figures of the site for the others', () => {
    const mine = {
      id: 'mine',
      name: 'my clamp',
      purpose: 'relied',
      medianOhm: 0.001,
      lnSpread: 1,
      defectRate: 0,
      source: '',
    } as const
    const typed = addTableType({
      ...fixedTilt,
      id: 'own',
      frameBond: { clamps: { perMember: 1, kind: 'mine' }, links: null },
    })
    const from = typed(addJointKind(mine)(site))
    const changed = changeJointKind({ id: 'bracket', changes: { medianOhm: 0.7 } })(bare)
    const rows = from.drawing.rows.map((row) => ({
      ...row,
      runs: row.runs.map((run) => ({ ...run, type: 'own' })),
    }))
    const copied = takeCopy({ ...from, drawing: { ...from.drawing, rows } }, items.slice(0, 1))
    expect(otherKinds(changed.drawing, copied)).toEqual(['bracket'])
    const pasted = pasteCopy({ copied, byM: { x: 0, y: 0 } })(changed)
    expectValid(pasted)
    expect(pasted.drawing.jointKinds.at(-1)).toEqual(mine)
    expect(pasted.drawing.jointKinds.find(({ id }) => id === 'bracket')?.medianOhm).toBe(0.7)
  })

  it('refuses what would not open again, and does nothing with nothing', () => {
    const copied = takeCopy(site, items)
    expect(canPasteCopy(bare, { copied: { ...copied, tableTypes: [] }, byM: { x: 0, y: 0 } })).toMatchObject({
      code: 'reference.unknownName',
    })
    expect(canPasteCopy(bare, { copied, byM: { x: 1e9, y: 0 } })).toMatchObject({ code: 'value.outOfRange' })
    const twins = { ...copied, rows: [copied.rows[0], copied.rows[0]] }
    expect(canPasteCopy(bare, { copied: twins, byM: { x: 0, y: 0 } })).toMatchObject({
      code: 'reference.duplicateId',
    })
    const nothing = takeCopy(site, [])
    expect(pasteCopy({ copied: nothing, byM: { x: 1, y: 1 } })(bare)).toBe(bare)
  })

  it('of any site into an empty one has everything that was taken', () => {
    fc.assert(
      fc.property(anySite, (site) => {
        const taken = allDrawn(site.drawing)
        const pasted = deepFreeze(pasteCopy({ copied: takeCopy(site, taken), byM: { x: 1, y: 1 } })(bare))
        expectValid(pasted)
        expect(addedItems(bare.drawing, pasted.drawing)).toHaveLength(taken.length)
        expect(pasted.drawing.extraJoints).toHaveLength(site.drawing.extraJoints.length)
        expect(pasted.drawing.differingJoints).toHaveLength(site.drawing.differingJoints.length)
      }),
      { numRuns: 60, seed: 4 },
    )
  })
})
