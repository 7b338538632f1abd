import { assert, present } from '../../../../src/base/assert.ts'
import { randomStream } from '../../../../src/base/random.ts'
import { longLead } from '../../../generator/testKits.ts'
import { assumed } from '../generator/assumed.ts'
import type { Scenario } from '../generator/drawScenario.ts'
import { solveOhms } from '../generator/solveOhms.ts'
import { startVisit } from '../generator/takeReadings.ts'
import { judge } from '../methods/passFail.ts'
import { typedSite } from '../typedSite.ts'
import type { Policy } from './policy.ts'

/** What it took to come to a bad joint. */
export interface Found {
  readonly found: boolean
  readonly readings: number
  readonly minutes: number
  readonly metres: number
  readonly looks: number
  /** Looks that found nothing bad, and the minutes that they took: where a joint is buried, the digging too. */
  readonly vainLooks: number
  readonly vainMinutes: number
  /** When the first reading was too high: readings and minutes so far; null where none ever was. */
  readonly high: { readonly readings: number; readonly minutes: number } | null
}

export const mostReadings = 40
export const mostMinutes = 240
/** A policy that does nothing but what takes no time is stopped. */
const mostSteps = 400

/** How well each joint hides, 0 to 1: the same for every look at it and every policy. */
function findingLuck({ seed, possible }: Scenario): Float64Array {
  const random = randomStream(seed ^ 0x632be59b)
  return Float64Array.from(possible.address, () => random.uniform())
}

/**
 * Lets a policy work on an array from the first reading of the plan on, until a look finds a bad joint, or 40 readings
 * or 240 minutes are over, or it leaves off. The same crew, leads and instrument for every policy.
 */
export function follow(scenario: Scenario, policy: Policy): Found {
  const { possible, ohm, family, site, pairs, faults, contactFactor } = scenario
  const { network } = possible
  const lead = family.kit.method === 'twoWire' ? longLead : null
  const random = randomStream(scenario.seed ^ 0x2545f491)
  const solved = solveOhms(network, ohm)
  const visit = startVisit({ network, solved, kit: family.kit, lead, random, contactFactor })
  const added = new Map(faults.map(({ edge, addedOhm }) => [edge, addedOhm]))
  const luck = findingLuck(scenario)
  const edgeOf = new Map(possible.address.map((address, e) => [address, e]))
  let reference = pairs[0].from
  visit.setUp(reference, 8)
  visit.read(pairs[0])
  let [looks, vainLooks, vainMinutes] = [0, 0, 0]
  let found = false
  let high: Found['high'] = null
  const readings = () => visit.record.filter(({ entry }) => entry === 'reading').length
  const isOver = () => found || readings() >= mostReadings || visit.minutes >= mostMinutes
  for (let step = 0; step < mostSteps && !isOver(); step++) {
    const typed = typedSite({ ...site, record: [...visit.record] })
    if (high === null && judge(typed).fails.length > 0) {
      high = { readings: readings(), minutes: visit.minutes }
    }
    const action = policy.next(typed)
    if (action.do === 'leaveOff') break
    if (action.do === 'repeat') visit.again(action.reading)
    if (action.do === 'shortLeads') visit.checkLead()
    if (action.do === 'read') {
      if (action.from !== reference) visit.setUp(action.from, 8)
      reference = action.from
      visit.read(action)
    }
    if (action.do === 'look') {
      assert(action.joints.length > 0, 'a look at nothing')
      for (const joint of action.joints) {
        if (isOver()) break
        const edge = present(edgeOf.get(joint), `${joint} is no joint of the array`)
        const { withTorque } = action
        const { findsOpen, findsRaised } = withTorque ? assumed.torqueCheck : assumed.look
        const addedOhm = added.get(edge)
        found = addedOhm !== undefined && luck[edge] < (addedOhm === Infinity ? findsOpen : findsRaised)
        const minutes = visit.look({ joint, edge, isFoundBad: found, withTorque })
        looks++
        if (found) continue
        vainLooks++
        vainMinutes += minutes
      }
    }
  }
  const { minutes, walkedM } = visit
  const inTime = found && minutes <= mostMinutes
  return {
    found: inTime,
    readings: readings(),
    minutes,
    metres: walkedM,
    looks,
    vainLooks,
    vainMinutes,
    high,
  }
}
