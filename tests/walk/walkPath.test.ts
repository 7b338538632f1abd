import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { prepareGround } from '../../src/walk/ground/ground.ts'
import { layOutWholeWalk } from '../../src/walk/layOut.ts'
import { walkPathOf } from '../../src/walk/walkPath.ts'
import { partOf, prepare, rowSite } from '../locate/rowSite.ts'

function lengthM(line: Float64Array): number {
  let sumM = 0
  for (let k = 2; k < line.length; k += 2)
    sumM += Math.hypot(line[k] - line[k - 2], line[k + 1] - line[k - 1])
  return sumM
}

describe('the path of a walk', () => {
  const prepared = prepare(rowSite())
  const { index } = prepared.network
  const part = (address: string) => partOf(prepared, address)
  const ground = wholly(prepareGround(index))
  const pairs = [
    ...[1, 2, 3, 4, 5].map((t) => ({ a: part(`R1/T${t}/L1.1`), b: part(`R1/T${t + 1}/L1.1`) })),
    ...[1, 3, 6].map((t) => ({ a: part('B1'), b: part(`R2/T${t}/L4.1`) })),
    { a: part('R2/T6/L1.1'), b: part('R2/T6/L4.1') },
  ]
  const walk = layOutWholeWalk(index, pairs, { persons: 1, ground })
  const { setUps } = wholly(walkPathOf(ground, walk))

  it('is as long as the walk, set-up by set-up', () => {
    expect(setUps.length).toBe(walk.setUps.length)
    setUps.forEach(({ approachM, roundM }, s) => {
      expect(lengthM(approachM) + lengthM(roundM)).toBeCloseTo(walk.setUps[s].wayM, 2)
    })
  })

  it('begins each way where the last one ended, and each round ends where it began', () => {
    setUps.forEach(({ approachM, roundM }, s) => {
      const end = [roundM.at(-2), roundM.at(-1)]
      expect(end).toEqual([roundM[0], roundM[1]])
      if (s === 0) expect(approachM.length).toBe(0)
      else {
        expect([approachM.at(-2), approachM.at(-1)]).toEqual([roundM[0], roundM[1]])
        expect([approachM[0], approachM[1]]).toEqual([setUps[s - 1].roundM[0], setUps[s - 1].roundM[1]])
      }
    })
  })

  it('names the places of the clips themselves, in walking order', () => {
    setUps.forEach(({ clipM, farM }, s) => {
      expect(clipM).toEqual(partPositionM(index, walk.setUps[s].at))
      const own = walk.order.filter(({ setUp }) => setUp === s)
      expect(farM.length).toBe(2 * own.length)
      own.forEach(({ to }, k) => {
        expect({ x: farM[2 * k], y: farM[2 * k + 1] }).toEqual(partPositionM(index, to))
      })
    })
  })
})
