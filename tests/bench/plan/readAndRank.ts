import { randomStream, type RandomStream } from '../../../src/base/random.ts'
import { locate } from '../../../src/locate/locate.ts'
import type { LocateCache } from '../../../src/locate/locateCache.ts'
import { gainOfSeverity, type PlanPairInput } from '../../../src/model/planning.ts'
import { parseJointAddress } from '../../../src/model/address.ts'
import { jointIndexOf } from '../../../src/layout/jointIndex.ts'
import { present } from '../../../src/base/assert.ts'
import type { Network } from '../../../src/network/compile.ts'
import type { PlantedSeverity } from './planFigures.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import type { Kit, Lead } from '../../../src/model/schema/record.ts'
import type { PreparedNetwork } from '../../../src/network/prepare.ts'
import { drawTruth } from '../../generator/drawTruth.ts'
import { runToEnd } from '../../generator/locateIn.ts'
import { takeVisit, type VisitOrder } from '../../generator/takeVisit.ts'
import { drawPoorContact } from '../../generator/drawContact.ts'
import { rankOf } from '../plantedTrial.ts'

/** Pairs of a plan in their order, on a site that was prepared once, and what they are read with. */
export interface ReadOrder {
  readonly site: Site
  readonly prepared: PreparedNetwork
  /** What one ranking leaves for the next: where the pairs' currents go. */
  readonly cache: LocateCache
  readonly pairs: readonly PlanPairInput[]
  readonly kit: Kit
  readonly lead: Lead | null
}

/**
 * - `none`: every joint at its median, an instrument and a lead without error, the best of contacts
 * - `share`: joints, instrument, lead and sound contacts drawn; a share of the readings with a poor contact
 * - `atRate`: contacts poor at the rates of their surfaces, and readings too low now and then
 */
export type Noise = { readonly noise: 'none' | 'atRate' } | { readonly noise: 'share'; readonly poor: number }

/** A stream in which everything comes out at its middle. */
function middling(): RandomStream {
  return { uniform: () => 0.5, normal: () => 0, bits: () => 1, integer: () => 0 }
}

/** Spoils one joint, reads all pairs, and says at which place the ranking has the group that holds it. */
export function rankAfterReading(
  order: ReadOrder,
  joint: string,
  seed: number,
  noise: Noise,
  severity: PlantedSeverity = 'open',
): number {
  const random = noise.noise === 'none' ? middling() : randomStream(seed)
  const { network } = order.prepared
  const truth = drawTruth(network, random, {
    opened: severity === 'open' ? [joint] : [],
    raised:
      severity === 'open'
        ? []
        : [{ joint, addedOhm: gainOfSeverity[severity] * medianOhmOf(network, joint) }],
  })
  const record = takeVisit(visitOf(order, truth, random, noise))
  return rankOf(runToEnd(locate({ ...order.site, record }, order.prepared, order.cache)), joint)
}

function medianOhmOf({ index, edgeOfJoint, medianOhm }: Network, joint: string): number {
  return medianOhm[edgeOfJoint[jointIndexOf(index, present(parseJointAddress(joint), 'a joint'))]]
}

function visitOf(
  { pairs, kit, lead }: ReadOrder,
  truth: VisitOrder['truth'],
  random: RandomStream,
  noise: Noise,
): VisitOrder {
  const numbered = pairs.map(({ from, to }, k) => ({
    id: k + 1,
    from,
    to,
    required: false,
    step: '',
    point: 'none' as const,
  }))
  const about = {
    startsAt: '2026-05-12T06:30:00Z',
    party: ['Tester 1'],
    purpose: 'Benchmark',
    weather: '',
    ambientC: 18,
    isolation: '',
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  } as const
  const plan = { id: 'bench', name: '', note: '', pairs: numbered, nextPair: numbered.length + 1 }
  return { truth, plan, kit, lead, random, about, contacts: contactsOf(numbered, random, noise) }
}

function contactsOf(
  pairs: readonly { readonly id: number }[],
  random: RandomStream,
  noise: Noise,
): VisitOrder['contacts'] {
  if (noise.noise !== 'share') return noise.noise === 'none' ? new Map() : 'atRate'
  const contacts = randomStream(random.bits())
  const poor = new Map<number, number>()
  for (const { id } of pairs) {
    if (contacts.uniform() < noise.poor) poor.set(id, drawPoorContact(contacts))
  }
  return poor
}
