import { describe, expect, it } from 'vitest'
import { removeItems } from '../../src/model/edits/removeItems.ts'
import { removeTable } from '../../src/model/edits/tables.ts'
import { orphanedThings } from '../../src/panels/draw/orphanedThings.ts'
import { describeDesign, describeFound, describeFoundDay, nameFoundPlace } from '../../src/text/foundText.ts'
import {
  conductorFacts,
  electrodeFacts,
  formatPlain,
  removalLabel,
  rowFacts,
} from '../../src/text/formText.ts'
import { addressOfItem, countItems, nameItem } from '../../src/text/itemNames.ts'
import { countOrphans, nameOrphan, orphanTexts } from '../../src/text/orphansText.ts'
import { openNameBook } from '../../src/text/places.ts'
import { describeKind } from '../../src/text/siteFormText.ts'
import { exampleSite } from '../model/exampleSite.ts'

const site = exampleSite()
const book = openNameBook(site.drawing)

describe('names of drawn things', () => {
  it('are words of the trade, never a bare label, with the beginning of their addresses', () => {
    expect(nameItem(book, { sort: 'row', id: 1 })).toBe('row A')
    expect(nameItem(book, { sort: 'enclosure', id: 1 })).toBe('inverter 1')
    expect(nameItem(book, { sort: 'electrode', id: 2 })).toBe('earth electrode plate')
    expect(nameItem(book, { sort: 'conductor', id: 2 })).toBe('bar to rod')
    expect(nameItem(book, { sort: 'aisle', id: 1 })).toBe('aisle 1')
    expect(nameItem(book, { sort: 'obstacle', id: 1 })).toBe('obstacle ditch')
    expect(addressOfItem({ sort: 'row', id: 3 })).toBe('R3')
    expect(addressOfItem({ sort: 'obstacle', id: 1 })).toBeNull()
  })

  it('are counted by sort', () => {
    const items = [
      { sort: 'conductor', id: 1 },
      { sort: 'row', id: 1 },
      { sort: 'row', id: 3 },
    ] as const
    expect(countItems(items)).toBe('2 rows and 1 conductor')
    expect(removalLabel(book, items)).toBe('delete 2 rows and 1 conductor')
    expect(removalLabel(book, items.slice(0, 1))).toBe('delete row A to bar')
  })
})

describe('what follows from numbers', () => {
  it('has a unit and says what it counts', () => {
    expect(rowFacts({ lengthM: 18.74, pitchesM: [4.76, 6.08, 4.76] }, 'metric')).toEqual([
      { name: 'Length', value: '18.74 m' },
      { name: 'Table to table', value: '4.76 m and 6.08 m from start to start' },
    ])
    expect(formatPlain(3.6576, 'us')).toBe('12 ft')
    const ohms = { ohmPerM: 0.00108, totalOhm: 0.005, drawnM: 4.65 }
    expect(conductorFacts(ohms, 20, 'us').map(({ value }) => value)).toEqual([
      '15.3 ft',
      '329 mΩ per 1000 ft at 68 °F',
      '5 mΩ, without its lugs',
    ])
    const [rod, plate] = site.drawing.electrodes
    expect(electrodeFacts(rod, 40.4, 100)[0].value).toBe(
      '40 Ω, alone in soil of 100 Ω·m. The measured one counts.',
    )
    expect(electrodeFacts(plate, null, 100)[0].value).toContain('nothing: it has no length')
    const jumper = site.drawing.jointKinds.find(({ id }) => id === 'jumper')!
    expect(describeKind(jumper)).toBe('0.8 mΩ, within × 1.49, 0.7 % bad when new')
  })
})

describe('findings', () => {
  it('say what was found, where and when', () => {
    const now = '2026-05-12T09:00:00Z'
    expect(site.drawing.asBuilt.map((finding) => describeFound(book, finding, now))).toEqual([
      'found missing, 4 May',
      'found otherwise: 10 mΩ',
      'found joined: jumper with its lugs, 4 May',
      'found otherwise',
    ])
    expect(nameFoundPlace(book, site.drawing.asBuilt[1])).toBe('lug of row A to bar at main bar')
    expect(describeDesign(book, site.drawing.differingJoints[0])).toBe('the design has none here')
    expect(describeFoundDay('2026-05-04')).toBe('4 May 2026')
    expect(describeFoundDay('')).toBe('The day is not known')
  })
})

describe('orphanedThings', () => {
  it('names each thing once, a correction as the reading that it corrects', () => {
    const things = orphanedThings(site, removeItems({ items: [{ sort: 'row', id: 1 }] }))
    expect(countOrphans(things)).toBe(
      '1 reading, 1 check for volts, 1 look at a joint, 1 repair, 1 pair of a plan, 1 finding, ' +
        '1 joint that differs by design and 2 steps of lessons',
    )
    expect(things[0]).toMatchObject({ sort: 'reading', about: ['B1', 'R1/T1/F1.1'] })
    expect(nameOrphan(book, things[0])).toBe('Reading, main bar to frame 1.1, table A-01, row A')
    expect(orphanTexts.whatHappens(things)).toContain('They stay on record as they are')
  })

  it('speaks of one thing as of one, and of nothing where nothing is kept', () => {
    const things = orphanedThings(site, removeItems({ items: [{ sort: 'electrode', id: 1 }] }))
    expect(things).toEqual([])
    const one = orphanedThings(site, removeTable({ row: 1, table: 4 }))
    expect(one.map(({ sort }) => sort)).toEqual(['differing'])
    expect(orphanTexts.whatHappens(one)).toContain(
      'names what this change takes out of the drawing. It stays',
    )
  })
})
