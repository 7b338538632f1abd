import { describe, expect, it } from 'vitest'
import { locate } from '../../src/locate/locate.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import type { Kit } from '../../src/model/schema/record.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'
import { barSite, preparedSite, runToEnd, withVisit } from '../outside/barSite.ts'

const jumper = defaultJointKinds.find(({ id }) => id === 'jumper')!
const kit: Kit = { ...twoWireKit, id: 'kit' }

/** A ring of eight bars with a jumper between any two, and what was read from the first to each of the others. */
function ring(ohmTo: (bar: number) => number | null) {
  const joints = Array.from({ length: 8 }, (_, k) => ({ from: k, to: (k + 1) % 8, kind: 'jumper' }))
  const site = barSite(8, joints, [jumper])
  const readings = [1, 2, 3, 4, 5, 6, 7].flatMap((bar, k) =>
    [0, 1].map((again) => ({
      from: 'B1',
      to: `B${bar + 1}`,
      ohm: ohmTo(bar),
      minute: 2 + 2 * k + again,
      // so that no lead that broke once explains all that is over range
      nulled: true,
    })),
  )
  const visited = withVisit(site, kit, longLead, readings)
  return runToEnd(locate(visited, preparedSite(site)))
}

describe('joints that show only together', () => {
  it('two open jumpers of a ring, neither of which moves a reading by itself, are found as a pair', () => {
    // J3 and J6 leave bars 4 to 6 without a way
    const { headline, groups, badCount } = ring((bar) => (bar >= 3 && bar < 6 ? null : 0.01))
    expect(headline).toBe('suspects')
    const named = groups.filter(({ probability }) => probability > 0.9).flatMap(({ joints }) => joints)
    expect(named.map(({ joint }) => joint).sort()).toEqual(['J3', 'J6'])
    expect(badCount[2]).toBeGreaterThan(0.9)
    expect(badCount[1]).toBeLessThan(1e-6)
  })

  it('are not suspected where nothing is high', () => {
    const { headline, groups, badCount } = ring(() => 0.01)
    expect(headline).toBe('nothingBroken')
    expect(groups.every(({ probability }) => probability < 0.1)).toBe(true)
    expect(badCount[0]).toBeGreaterThan(0.9)
  })
})
