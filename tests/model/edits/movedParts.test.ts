import { describe, expect, it } from 'vitest'
import { withModules } from '../../../src/model/changeType.ts'
import { movedByTypeEdit } from '../../../src/model/edits/movedParts.ts'
import { addPairs, addPlan } from '../../../src/model/edits/plans.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite, fixedTilt } from '../exampleSite.ts'

const pairs = [
  ['R1/T1/L3.2', 'R1/T1/F1.1'],
  ['R1/T1/P1.2', 'R1/T1/X2'],
  ['B1', 'R1/T2/L1.1'],
] as const

const site = deepFreeze(
  addPairs({
    plan: 'walk',
    pairs: pairs.map(([from, to]) => ({ from, to, required: false })),
  })(addPlan({ id: 'walk', name: 'Walk', note: '' })(exampleSite())),
)
const own = new Set<string>(pairs.flat())
const moved = (next: typeof fixedTilt) =>
  [...new Set(movedByTypeEdit(site, next).map(({ text }) => text))].filter((text) => own.has(text))

describe('addresses that a change of type gives another meaning', () => {
  it('are those of rails whose number now carries another module row', () => {
    const [first, ...others] = fixedTilt.longMembers
    expect(moved({ ...fixedTilt, longMembers: [first, first, ...others] })).toEqual(['R1/T1/L3.2'])
    expect(moved({ ...fixedTilt, longMembers: fixedTilt.longMembers.slice(0, 2) })).toEqual([])
  })

  it('are those of posts and cross members at another station', () => {
    const posts = { ...fixedTilt.posts!, stations: [2, 3, 5] }
    expect(moved({ ...fixedTilt, posts })).toEqual(['R1/T1/P1.2'])
    const crossMembers = { ...fixedTilt.crossMembers!, stations: [2, 5] }
    expect(moved({ ...fixedTilt, crossMembers })).toEqual(['R1/T1/X2'])
  })

  it('are none where nothing moves by more than a hand, in other types, or of a type that is not there', () => {
    const nudged = fixedTilt.longMembers.map((member) => ({ ...member, upM: member.upM + 0.05 }))
    expect(moved({ ...fixedTilt, longMembers: nudged })).toEqual([])
    expect(movedByTypeEdit(site, fixedTilt)).toEqual([])
    expect(movedByTypeEdit(site, { ...fixedTilt, id: 'none' })).toEqual([])
    expect(moved(withModules(fixedTilt, { across: 6 }))).toEqual([])
  })
})
