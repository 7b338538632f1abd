import { randomStream } from '../../../../src/base/random.ts'
import { longLead } from '../../../generator/testKits.ts'
import type { Scenario } from '../generator/drawScenario.ts'
import { solveOhms } from '../generator/solveOhms.ts'
import { startVisit } from '../generator/takeReadings.ts'
import { typedSite } from '../typedSite.ts'
import type { Policy } from './policy.ts'

/** What it took to come to a bad joint. */
export interface Found {
  readonly found: boolean
  readonly readings: number
  readonly minutes: number
  readonly metres: number
  /** Looks at joints that were sound. */
  readonly vainLooks: number
}

export const mostReadings = 40

/**
 * Lets a policy work on an array from the bar's first reading on, until a look finds a bad joint or 40 readings or
 * as many looks are made. The same crew, leads and instrument for every policy.
 */
export function follow(scenario: Scenario, policy: Policy): Found {
  const { possible, ohm, family, site, pairs, faults } = scenario
  const lead = family.kit.method === 'twoWire' ? longLead : null
  const random = randomStream(scenario.seed ^ 0x2545f491)
  const solved = solveOhms(possible.network, ohm)
  const visit = startVisit({ network: possible.network, solved, kit: family.kit, lead, random })
  const bad = new Set(faults.map(({ edge }) => possible.address[edge]))
  let reference = pairs[0].from
  visit.setUp(reference, 8)
  visit.read(pairs[0])
  let vainLooks = 0
  let found = false
  const readings = () => visit.record.filter(({ entry }) => entry === 'reading').length
  for (let step = 0; step < 2 * mostReadings && readings() < mostReadings && !found; step++) {
    const action = policy.next(typedSite({ ...site, record: [...visit.record] }))
    if (action.do === 'leaveOff') break
    if (action.do === 'repeat') visit.again(action.reading)
    if (action.do === 'shortLeads') visit.checkLead()
    if (action.do === 'read') {
      if (action.from !== reference) visit.setUp(action.from, 8)
      reference = action.from
      visit.read(action)
    }
    if (action.do === 'look') {
      for (const joint of action.joints) {
        visit.look(joint, bad.has(joint))
        if (bad.has(joint)) {
          found = true
          break
        }
        vainLooks++
      }
    }
  }
  return { found, readings: readings(), minutes: visit.minutes, metres: visit.walkedM, vainLooks }
}
