import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { countSorts, faceDrawing, jointForm, stationNear } from '../../src/layout/faceDrawing.ts'
import { bodySort } from '../../src/layout/jointPlaces.ts'
import { tableBonding } from '../../src/layout/tableBonding.ts'
import { tablePattern } from '../../src/layout/tablePattern.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import { starterTypes } from '../../src/model/starterTypes.ts'
import { tableTypeFrom } from '../../src/model/typeChoices.ts'
import { compileNetwork } from '../../src/network/compile.ts'
import { describeLooseTable } from '../../src/text/typeWarnings.ts'
import { wordsFor } from '../../src/text/words.ts'
import { runToEnd } from '../network/runToEnd.ts'
import { anyType } from './anyDrawing.ts'
import { drawingOf, indexOf, rowOf } from './smallDrawings.ts'

const fixed = tableTypeFrom(starterTypes[0].choices, 'fixed', 'fixed')
const always = () => true

describe('what of a table hangs together', () => {
  it('is what the network finds in a site of one table', () => {
    fc.assert(
      fc.property(anyType('one'), (type) => {
        const drawing = drawingOf({
          tableTypes: [type],
          rows: [rowOf({ id: 1, runs: [{ firstTable: 1, count: 1, type: 'one' }], links: noLinks })],
        })
        const options = { countIncidental: true, asBuilt: false }
        const compiled = runToEnd(compileNetwork(drawing, indexOf(drawing), options))
        if (!compiled.ok) throw new Error(compiled.error[0].code)
        const { islands } = compiled.value.metal
        const bonding = tableBonding(tablePattern(type), always)
        // Remote earth is a section of one.
        expect(bonding.sections).toBe(islands.count - 1)
        const ofTable = islands.of.slice(0, bonding.sectionOf.length)
        bonding.sectionOf.forEach((section, part) => {
          const first = bonding.sectionOf.indexOf(section)
          expect(ofTable[part]).toBe(ofTable[first])
        })
      }),
      { seed: 11, numRuns: 150 },
    )
  })

  it('leaves out joints that only happen to conduct', () => {
    const withTouch = { ...fixed, posts: { ...fixed.posts!, bondKinds: ['incidental'] } }
    const posts = withTouch.posts.stations.length * 2
    expect(tableBonding(tablePattern(withTouch), always).sections).toBe(1)
    expect(tableBonding(tablePattern(withTouch), (kind) => kind !== 'incidental').sections).toBe(1 + posts)
  })

  it('warns of frames on nothing, rails that nothing crosses, posts without a bond', () => {
    const loose = {
      ...fixed,
      crossMembers: null,
      longMembers: fixed.longMembers.slice(0, 2),
      posts: { ...fixed.posts!, bondKinds: [] },
    }
    const found = tableBonding(tablePattern(loose), always)
    expect(found).toMatchObject({ rowsOnNothing: [2], isUncrossed: true, unbondedPosts: 10 })
    expect(found.sections).toBe(1 + 12 + 10)
    const words = describeLooseTable(found, wordsFor('metric'))
    expect(words).toEqual([
      'The frames of module row 2 rest on no rail, so that no clamp bonds them.',
      'No cross member joins the rails: each is bonded to the others by frames only, or not at all.',
      'No joint bonds the posts to what they carry: nothing in the table earths through them.',
      'Parts of this table are not bonded together by metal: 23 sections (12 frames and 2 rails; 1 frame; 1 frame; ' +
        '20 more).',
    ])
    expect(describeLooseTable(tableBonding(tablePattern(fixed), always), wordsFor('metric'))).toEqual([])
  })
})

describe('a table seen square to its modules', () => {
  it('has its true height, whatever the tilt', () => {
    const steep = faceDrawing({ ...fixed, tiltDeg: 80 })
    expect(steep.alongM).toBeCloseTo(12 * 1.15 - 0.02, 9)
    expect(steep.upM).toBeCloseTo(4.58, 9)
    expect(steep.memberY).toEqual([0.57, 1.71, 2.87, 4.01])
    expect(steep.frames).toHaveLength(24)
    expect(steep.posts).toHaveLength(10)
  })

  it('finds the station that is pointed at', () => {
    const drawing = faceDrawing(fixed)
    expect([0, 1.1, 6.3, 99].map((x) => stationNear(drawing, x))).toEqual([1, 2, 6, 13])
  })

  it('names joints as addresses do', () => {
    fc.assert(
      fc.property(anyType('one'), (type) => {
        const { pattern, jointSort } = faceDrawing(type)
        const forms = Array.from({ length: pattern.jointCount }, (_, j) => jointForm(pattern, j))
        expect(new Set(forms).size).toBe(forms.length)
        for (const form of forms) expect(parseJointAddress(`R1/T1/${form}`)).not.toBeNull()
        const counts = countSorts(faceDrawing(type))
        expect(counts.reduce((sum, count) => sum + count, 0)).toBe(pattern.jointCount)
        expect(counts[bodySort]).toBe([...jointSort].filter((sort) => sort === bodySort).length)
      }),
      { seed: 5, numRuns: 100 },
    )
  })
})

const noLinks = { count: 0, kind: 'jumper' } as const
