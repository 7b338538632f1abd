import { describe, expect, it } from 'vitest'
import { leadCheckMin, lookMin, readingMin, retorqueMin, walkMin } from '../../src/walk/effort.ts'
import { reachOfLeadM, straightM, wayM } from '../../src/walk/reach.ts'
import { partOf, prepare, rowSite } from '../locate/rowSite.ts'

const here = { wayM: 0, movesReference: false, changesLead: false }

describe('effort', () => {
  it('a reading from the same first point takes a minute and a half, and the way', () => {
    expect(readingMin(here)).toBe(1.5)
    expect(readingMin({ ...here, wayM: 60 })).toBe(2.5)
  })

  it('moving the first clip and changing the lead come on top', () => {
    expect(readingMin({ ...here, movesReference: true })).toBe(5.5)
    expect(readingMin({ wayM: 30, movesReference: true, changesLead: true })).toBe(8)
  })

  it('looks take a minute a joint, torque two more, a buried joint two hours more', () => {
    expect(lookMin(0, 1, false)).toBe(1)
    expect(lookMin(0, 4, false)).toBe(4)
    expect(retorqueMin(60, 2, false)).toBe(7)
    expect(lookMin(0, 1, true)).toBe(121)
  })

  it('a lead check takes a minute, and walking a metre a second', () => {
    expect(leadCheckMin(0)).toBe(1)
    expect(walkMin(90)).toBe(1.5)
  })
})

describe('reach', () => {
  const prepared = prepare(rowSite())
  const { index } = prepared.network
  const part = (address: string) => partOf(prepared, address)

  it('is straight in plan: bars and electrodes where they are drawn', () => {
    expect(straightM(index, part('B1'), part('G1'))).toBeCloseTo(1, 12)
    expect(wayM(index, [part('G1'), part('B1'), part('G1')])).toBeCloseTo(2, 12)
    expect(wayM(index, [part('B1')])).toBe(0)
  })

  it('is the same along both rows, from end to end of a member', () => {
    const along = straightM(index, part('R1/T1/L1.1'), part('R1/T6/L1.1'))
    expect(straightM(index, part('R2/T1/L1.1'), part('R2/T6/L1.1'))).toBeCloseTo(along, 9)
    // five steps of a table of four modules 1 m wide with 20 mm between, and half a metre between tables
    expect(along).toBeCloseTo(5 * (4 * 1 + 3 * 0.02 + 0.5), 1)
  })

  it('no lead reaches remote earth, and a short one spans nothing', () => {
    expect(straightM(index, part('B1'), index.remoteEarth)).toBe(Infinity)
    expect(reachOfLeadM(50)).toBe(47)
    expect(reachOfLeadM(1)).toBe(0)
  })
})
