import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { landPoint } from '../../src/model/edits/conductors.ts'
import { addExtraJoint } from '../../src/model/edits/extraJoints.ts'
import { orphansOfTypeEdit } from '../../src/model/edits/orphans.ts'
import { withModules } from '../../src/model/changeType.ts'
import { describeOrphans } from '../../src/text/typeOrphans.ts'
import { suggestTypeName, nameMemberOfType } from '../../src/text/tableTypeText.ts'
import { wordsFor } from '../../src/text/words.ts'
import { starterTypes } from '../../src/model/starterTypes.ts'
import { tableTypeFrom } from '../../src/model/typeChoices.ts'
import { readFileSync } from 'node:fs'

function demo(name: string) {
  const opened = openSite(readFileSync(new URL(`../../demo-data/${name}.json`, import.meta.url)), name)
  if (!opened.ok) throw new Error(name)
  return opened.value
}

describe('what a change of type leaves without a part', () => {
  const site = demo('field')
  const [type] = site.drawing.tableTypes

  it('is nothing where only metal changes', () => {
    const thicker = {
      ...type,
      longMembers: type.longMembers.map((member) => ({ ...member, areaMm2: 500 })),
    }
    expect(describeOrphans(site, orphansOfTypeEdit(site, thicker))).toEqual([])
  })

  it('names each reading once, planned pairs, and landings that the drawing lets go', () => {
    const shorter = withModules(type, { high: 1, across: 4 })
    const lines = describeOrphans(site, orphansOfTypeEdit(site, shorter))
    const readings = lines.find(({ sort }) => sort.endsWith('readings'))!
    expect(readings.isKept).toBe(true)
    expect(readings.names.length).toBeGreaterThan(0)
    expect(readings.names[0]).toMatch(/ to /)
    const entries = new Set(orphansOfTypeEdit(site, shorter).flatMap(({ entry }) => entry ?? []))
    const told = lines.filter(({ sort }) => /reading|look|repair|correction|entr/.test(sort))
    const count = told.reduce((sum, { names, more }) => sum + names.length + more, 0)
    expect(count).toBe(entries.size)
  })

  it('tells what is let go from what is kept', () => {
    const [conductor] = site.drawing.conductors
    const landing = { part: 'R1/T1/P1.4', kind: 'crimpLug' }
    const landed = landPoint({ conductor: conductor.id, point: conductor.points[1].id, landing })(site)
    const joint = { label: 'strap', from: 'R1/T1/P1.4', to: 'R1/T1/F1.1', kind: 'jumper', medianOhm: null }
    const tied = addExtraJoint(joint)(landed)
    const fewerPosts = { ...type, posts: { ...type.posts!, stations: [2, 5] } }
    const lines = describeOrphans(tied, orphansOfTypeEdit(tied, fewerPosts))
    const letGo = lines.filter(({ isKept }) => !isKept)
    expect(letGo.map(({ sort, names }) => [sort, ...names])).toEqual([
      ['1 landing of a conductor', expect.stringMatching(/ at front post 4, table/)],
      ['1 extra joint', 'strap'],
    ])
    for (const { sort, isKept } of lines) expect(isKept).toBe(!/landing|extra/.test(sort))
  })
})

describe('names of types', () => {
  it.each(['field', 'tracker', 'roof'])('suggests what the %s demo calls its own', (name) => {
    const [type] = demo(name).drawing.tableTypes
    expect(suggestTypeName(type)).toBe(type.name)
  })

  it('calls the only long member of a tracker its tube', () => {
    const words = wordsFor('metric')
    const one = tableTypeFrom(starterTypes[2].choices, 'one', 'one')
    expect(nameMemberOfType(one, 1, words)).toBe('tube')
    const [demoType] = demo('tracker').drawing.tableTypes
    expect([1, 2].map((member) => nameMemberOfType(demoType, member, words))).toEqual(['tube', 'rail 2'])
  })
})
