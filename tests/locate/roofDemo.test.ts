import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { randomStream } from '../../src/base/random.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { drawTruth } from '../generator/drawTruth.ts'
import { roofStory } from '../generator/demoSites.ts'
import { locateIn } from '../generator/locateIn.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/roof.json', import.meta.url)), 'roof.json')

describe('demo roof', () => {
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const site = opened.value
  const answer = locateIn(site)

  it('the raised lug is the first suspect: raised, not open', () => {
    expect(answer.headline).toBe('suspects')
    const [first] = answer.groups
    expect(first.joints[0].joint).toBe(roofStory.raisedLug)
    expect(first.probability).toBeGreaterThan(0.9)
    expect(first.openProbability).toBeLessThan(0.01)
    // Severities are weighed in stretches of a factor of two.
    expect(first.addedOhm?.middle).toBeGreaterThan(roofStory.addedOhm / 1.5)
    expect(first.addedOhm?.middle).toBeLessThan(roofStory.addedOhm * 1.5)
  })

  it('the readings from the bar to row 2 are high by it, all others in line', () => {
    for (const { from, to, verdict } of answer.readings) {
      const isHigh = from === 'B1' && to.startsWith('R2/')
      expect([from, to, verdict]).toEqual([from, to, isHigh ? 'highBySuspect' : 'inLine'])
    }
  })

  it('no single clamp can be seen open: each frame has four', () => {
    const { cannotBeSeen, examples } = answer.coverage
    expect(examples.map(({ kind, joints }) => [kind, joints])).toEqual([['frameClamp', cannotBeSeen]])
  })

  it('every reading is far below the level to investigate: only like against like shows the lug', () => {
    const level = site.drawing.criteria.find(({ scope }) => scope === 'pathToEarthBar')!.investigateAboveOhm!
    for (const { readOhm } of answer.readings) expect(readOhm).toBeLessThan(level / 10)
  })

  it('a two-wire tester on a long lead would not have shown the lug', () => {
    const random = randomStream(11)
    const truth = drawTruth(drawnNetwork(site.drawing), random, {
      raised: [{ joint: roofStory.raisedLug, addedOhm: roofStory.addedOhm }],
    })
    const visit = site.record[0]
    if (visit.entry !== 'visit') throw new Error('the record begins with its visit')
    const record = takeVisit({
      truth,
      plan: site.drawing.plans[0],
      kit: twoWireKit,
      lead: longLead,
      random,
      about: { ...visit, startsAt: visit.at, ambientC: 20 },
      contacts: new Map(),
    })
    expect(locateIn({ ...site, record }).headline).toBe('nothingBroken')
  })
})
