import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { countSorts, faceDrawing } from '../../src/layout/faceDrawing.ts'
import { bodySort, clampSort } from '../../src/layout/jointPlaces.ts'
import { starterTypes } from '../../src/model/starterTypes.ts'
import { tableTypeFrom } from '../../src/model/typeChoices.ts'
import { meaningOfSort, showMeaning } from '../../src/panels/tableType/pictureMeaning.ts'
import {
  jointAt,
  markedSorts,
  markPlaces,
  marksOfSort,
  pictureScale,
} from '../../src/panels/tableType/typePicture.ts'
import { anyType } from '../layout/anyDrawing.ts'

const widths = fc.integer({ min: 280, max: 1400 })

/** Closed and open shapes of a path count by their moves; a few marks have several. */
const movesOf = (path: string) => path.split('M').length - 1
const movesPerMark = [1, 1, 0, 2, 1, 1, 4]

describe('the picture of a table', () => {
  it('holds every part and mark, whatever the width', () => {
    fc.assert(
      fc.property(anyType('one'), widths, (type, width) => {
        const drawing = faceDrawing(type)
        const scale = pictureScale(drawing, width, 360)
        const places = markPlaces(drawing, scale)
        for (let j = 0; j < drawing.pattern.jointCount; j++) {
          expect(places[2 * j]).toBeGreaterThanOrEqual(0)
          expect(places[2 * j]).toBeLessThanOrEqual(scale.widthPx)
          expect(places[2 * j + 1]).toBeGreaterThanOrEqual(0)
          expect(places[2 * j + 1]).toBeLessThanOrEqual(scale.heightPx)
        }
        const counts = countSorts(drawing)
        for (const sort of markedSorts) {
          const marks = marksOfSort(drawing, places, scale, sort)
          expect(movesOf(marks)).toBe(counts[sort] * movesPerMark[sort])
        }
      }),
      { seed: 2, numRuns: 120 },
    )
  })

  it('finds each joint of a starter where its mark is, apart from all others', () => {
    for (const { id, choices } of starterTypes) {
      const drawing = faceDrawing(tableTypeFrom(choices, id, id))
      const scale = pictureScale(drawing, 320, 360)
      const places = markPlaces(drawing, scale)
      for (let j = 0; j < drawing.pattern.jointCount; j++) {
        if (drawing.jointSort[j] === bodySort) continue
        expect(jointAt(drawing, places, places[2 * j] + 0.2, places[2 * j + 1] - 0.2, 12), id).toBe(j)
      }
    }
    const drawing = faceDrawing(tableTypeFrom(starterTypes[0].choices, 'a', 'a'))
    const scale = pictureScale(drawing, 320, 360)
    expect(jointAt(drawing, markPlaces(drawing, scale), -50, -50, 12)).toBe(-1)
  })

  it('shows a module’s sides, gaps and the place of rails as lengths', () => {
    const drawing = faceDrawing(tableTypeFrom(starterTypes[0].choices, 'a', 'a'))
    const scale = pictureScale(drawing, 800, 360)
    const places = markPlaces(drawing, scale)
    const lengthOf = (meaning: Parameters<typeof showMeaning>[0]) =>
      showMeaning(meaning, drawing, places, scale).span?.lengthM
    expect(lengthOf({ of: 'longSide' })).toBeCloseTo(2.28, 9)
    expect(lengthOf({ of: 'shortSide' })).toBeCloseTo(1.13, 9)
    expect(lengthOf({ of: 'gapAcross' })).toBeCloseTo(0.02, 9)
    expect(lengthOf({ of: 'gapHigh' })).toBeCloseTo(0.02, 9)
    expect(lengthOf({ of: 'inset' })).toBeCloseTo(0.57, 9)
    expect(lengthOf({ of: 'height', member: 3 })).toBeCloseTo(2.87, 9)
    expect(showMeaning({ of: 'splices', member: 2 }, drawing, places, scale).marks).not.toBe('')
    expect(showMeaning(meaningOfSort.clamps, drawing, places, scale).marks).toBe(
      marksOfSort(drawing, places, scale, clampSort),
    )
    expect(showMeaning(null, drawing, places, scale)).toEqual({ lines: '', marks: '', span: null })
  })
})
