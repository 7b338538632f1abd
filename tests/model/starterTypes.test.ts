import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { faceDrawing } from '../../src/layout/faceDrawing.ts'
import { tableBonding } from '../../src/layout/tableBonding.ts'
import { railSpacing, sharedMetal, sharedSplices, sharedStations } from '../../src/model/changeType.ts'
import { withModules, withRails, withSharedSplices, withSharedStations } from '../../src/model/changeType.ts'
import { addTableType, canAddTableType } from '../../src/model/edits/tableTypes.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import { newSite } from '../../src/model/newSite.ts'
import { tableTypeSchema, type TableType } from '../../src/model/schema/tableType.ts'
import { starterTypes } from '../../src/model/starterTypes.ts'
import { moduleSides, tableHeightM, tableTypeFrom, type TypeChoices } from '../../src/model/typeChoices.ts'
import { evenSplices, evenStations } from '../../src/model/typeSpacing.ts'
import { deepFreeze } from './deepFreeze.ts'
import { uuid } from './exampleSite.ts'

const empty = deepFreeze(newSite({ id: uuid(1), revision: uuid(2), name: 'Types', units: 'metric' }))
const relied = new Set(defaultJointKinds.filter(({ purpose }) => purpose === 'relied').map(({ id }) => id))

const sectionsOf = (type: TableType) =>
  tableBonding(faceDrawing(type).pattern, (kind) => relied.has(kind)).sections

const starters = starterTypes.map(({ id, choices }) => [id, tableTypeFrom(choices, 'made', 'made')] as const)

/** Any choices that the form offers, sensible or odd. */
const anyChoices: fc.Arbitrary<TypeChoices> = fc
  .record({
    starter: fc.constantFrom(...starterTypes),
    high: fc.integer({ min: 1, max: 6 }),
    across: fc.integer({ min: 1, max: 40 }),
    orientation: fc.constantFrom('portrait' as const, 'landscape' as const),
    longMm: fc.integer({ min: 900, max: 2500 }),
    shortMm: fc.integer({ min: 500, max: 1400 }),
    gapMm: fc.integer({ min: 0, max: 60 }),
    perRow: fc.integer({ min: 1, max: 3 }),
    inset: fc.option(fc.integer({ min: 50, max: 240 })),
  })
  .map(({ starter, high, across, orientation, longMm, shortMm, gapMm, perRow, inset }) => ({
    ...starter.choices,
    modules: {
      high,
      across,
      orientation,
      longSideM: longMm / 1000,
      shortSideM: shortMm / 1000,
      gapAcrossM: gapMm / 1000,
      gapHighM: gapMm / 1000,
    },
    rails: {
      ...starter.choices.rails,
      perRow: starter.choices.tube ? 0 : perRow,
      insetM: inset === null ? null : inset / 1000,
    },
  }))

describe('starter types', () => {
  it.each(starters)('%s is a type that a new site takes', (_, type) => {
    expect(tableTypeSchema.safeParse(type).success).toBe(true)
    expect(canAddTableType(empty, type)).toBe(true)
    expect(addTableType(type)(empty).drawing.tableTypes).toEqual([type])
  })

  it('bond each table into one metal section; linked frames are one, their structure another', () => {
    const sections = Object.fromEntries(starters.map(([id, type]) => [id, sectionsOf(type)]))
    expect(sections).toEqual({
      fixedTwoHigh: 1,
      flushRoof: 1,
      trackerOneHigh: 1,
      landscapeThreeHigh: 1,
      linkedFrames: 2,
    })
  })

  it('has four rails at the quarter points of two portrait modules', () => {
    const type = starters[0][1]
    expect(type.longMembers.map(({ upM, carries }) => [upM, ...carries])).toEqual([
      [0.57, 1],
      [1.71, 1],
      [2.87, 2],
      [4.01, 2],
    ])
  })

  it('hangs a tracker on one tube through the middle of its modules', () => {
    const { longMembers } = starters[2][1]
    expect(longMembers).toHaveLength(1)
    expect(longMembers[0]).toMatchObject({ carries: [1], upM: 1.14, spliceAfter: [9, 18] })
  })

  it('is valid and bonded as its starter is, whatever is chosen', () => {
    fc.assert(
      fc.property(anyChoices, (choices) => {
        const type = tableTypeFrom(choices, 'made', 'made')
        expect(canAddTableType(empty, type)).toBe(true)
        // On a roof nothing joins one module row's rails to the next row's.
        const rows = choices.mounting === 'flushRoof' ? choices.modules.high : 1
        expect(sectionsOf(type)).toBe(choices.frameBond.clamps ? rows : 2)
        for (const { upM } of type.longMembers) {
          expect(upM).toBeGreaterThan(0)
          expect(upM).toBeLessThan(tableHeightM(type))
        }
      }),
      { seed: 20260512, numRuns: 300 },
    )
  })
})

describe('spacing', () => {
  it('places posts one module in, at most three apart', () => {
    expect(evenStations(10)).toEqual([2, 5, 7, 10])
    expect(evenStations(12)).toEqual([2, 5, 7, 10, 12])
    expect(evenStations(26, 'tracker')).toEqual([2, 8, 14, 20, 26])
    expect(evenStations(1)).toEqual([1, 2])
    expect(evenStations(2)).toEqual([1, 3])
    expect(evenStations(3)).toEqual([2, 3])
    for (let across = 3; across <= 400; across++) {
      const stations = evenStations(across)
      expect(stations[0]).toBe(2)
      expect(stations.at(-1)).toBe(across)
      stations.slice(1).forEach((station, k) => {
        expect(station - stations[k]).toBeGreaterThanOrEqual(1)
        expect(station - stations[k]).toBeLessThanOrEqual(3)
      })
    }
  })

  it('splices rails so that no length is longer than 7 m, give or take half a module', () => {
    expect(evenSplices(10, 1.15)).toEqual([6])
    expect(evenSplices(6, 1.15)).toEqual([])
    expect(evenSplices(20, 1.15)).toEqual([6, 11, 16])
    for (let across = 1; across <= 400; across++) {
      const after = evenSplices(across, 1.15)
      expect(new Set(after).size).toBe(after.length)
      expect(after.every((station) => station >= 1 && station <= across)).toBe(true)
      const ends = [0.5, ...after, across + 0.5]
      ends.slice(1).forEach((end, k) => expect((end - ends[k]) * 1.15).toBeLessThanOrEqual(7 + 1.15))
    }
  })
})

describe('changing a type', () => {
  const fixed = starters[0][1]

  it('knows what its members share', () => {
    expect(railSpacing(fixed)).toEqual({ perRow: 2, insetM: 0.57, isQuarter: true })
    expect(sharedStations(fixed)).toEqual(evenStations(12))
    expect(sharedSplices(fixed)).toEqual([7])
    expect(sharedMetal(fixed)).toEqual({ material: 'galvanised-steel', areaMm2: 400 })
    const [first, ...others] = fixed.longMembers
    const uneven = { ...fixed, longMembers: [{ ...first, upM: 0.4, areaMm2: 1, spliceAfter: [] }, ...others] }
    expect([railSpacing(uneven), sharedSplices(uneven), sharedMetal(uneven)]).toEqual([null, null, null])
    expect(railSpacing(starters[2][1])).toBeNull()
  })

  it('makes the field demo type of its starter by five numbers', () => {
    let type = withModules(fixed, { across: 10 })
    type = withSharedStations(type, [2, 5, 8, 10])
    type = withRails(type, 2, 0.5)
    expect(type.longMembers.map(({ upM }) => upM)).toEqual([0.5, 1.78, 2.8, 4.08])
    expect(sharedSplices(type)).toEqual([6])
  })

  it('lets derived stations follow the length, and keeps placed ones that still exist', () => {
    const longer = withModules(fixed, { across: 20 })
    expect(sharedStations(longer)).toEqual(evenStations(20))
    const placed = withSharedStations(fixed, [3, 9, 13])
    expect(sharedStations(withModules(placed, { across: 10 }))).toEqual([3, 9])
    expect(sharedStations(withModules(placed, { across: 20 }))).toEqual([3, 9, 13])
    const spliced = withSharedSplices(fixed, [4, 12])
    expect(sharedSplices(withModules(spliced, { across: 10 }))).toEqual([4])
  })

  it('keeps a typed inset when the module changes, and the quarter points when none was typed', () => {
    const typed = withRails(fixed, 2, 0.4)
    const larger = { longSideM: 2.4 }
    expect(railSpacing(withModules(typed, larger))).toMatchObject({ insetM: 0.4 })
    expect(railSpacing(withModules(fixed, larger))).toMatchObject({ insetM: 0.6, isQuarter: true })
  })

  it('adds and takes away module rows with their rails', () => {
    const three = withModules(fixed, { high: 3 })
    expect(three.longMembers.map(({ carries }) => carries)).toEqual([[1], [1], [2], [2], [3], [3]])
    expect(withModules(three, { high: 2 })).toEqual(fixed)
  })

  it('carries further module rows on the tube of a tracker, through their middle', () => {
    const two = withModules(starters[2][1], { high: 2 })
    expect(two.longMembers).toMatchObject([{ carries: [1, 2], upM: 2.29 }])
    expect(sectionsOf(two)).toBe(1)
    expect(withModules(two, { high: 1 })).toEqual(starters[2][1])
  })

  it('puts rails on a tube that had none, and takes them off again', () => {
    const bare = starters[2][1]
    const railed = withRails(bare, 2, null)
    expect(railed.longMembers.map(({ carries }) => carries)).toEqual([[], [1], [1]])
    expect(withRails(railed, 0, null)).toEqual(bare)
    expect(withRails(fixed, 0, null)).toBe(fixed)
  })

  it('stays valid through any changes, and changes nothing in place', () => {
    const change = fc.oneof(
      fc.record({ high: fc.integer({ min: 1, max: 12 }) }),
      fc.record({ across: fc.integer({ min: 1, max: 60 }) }),
      fc.record({ longSideM: fc.constantFrom(1, 1.76, 2.28, 2.4) }),
      fc.record({ orientation: fc.constantFrom('portrait' as const, 'landscape' as const) }),
    )
    fc.assert(
      fc.property(anyChoices, fc.array(change, { minLength: 1, maxLength: 6 }), (choices, changes) => {
        let type = deepFreeze(tableTypeFrom(choices, 'made', 'made'))
        for (const one of changes) type = deepFreeze(withModules(type, one))
        expect(canAddTableType(empty, type)).toBe(true)
        expect(moduleSides(type.modules).upM).toBeGreaterThan(0)
      }),
      { seed: 7, numRuns: 300 },
    )
  })
})
