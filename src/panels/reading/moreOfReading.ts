import { fail, ok, type Result } from '../../base/result.ts'
import { parsePartAddress } from '../../model/address.ts'
import type { Plan } from '../../model/schema/planning.ts'
import type { EntryOf, Spot } from '../../model/schema/record.ts'
import type { NotedOfReading } from '../../state/entries.ts'
import { entryTexts } from '../../text/entryText.ts'
import { moreTexts } from '../../text/moreText.ts'
import type { Extras } from '../pairDraft.svelte.ts'

type Method = EntryOf<'reading'>['method']

/** Places of both spikes in metres; null where one is missing. */
export function spikesOf({ spikeCurrentM, spikePotentialM }: Extras): EntryOf<'reading'>['spikesM'] {
  return spikeCurrentM === null || spikePotentialM === null
    ? null
    : { current: spikeCurrentM, potential: spikePotentialM }
}

/** What was noted as it will stand in the record, or a sentence on what does not go together. */
export function moreOfReading(extras: Extras, method: Method): Result<Partial<NotedOfReading>, string> {
  const { reverseOhm, leastOhm, mostOhm, testCurrentA, metalC, trackerDeg, trying, photos } = extras
  if ((leastOhm === null) !== (mostOhm === null)) return fail(moreTexts.unsteadyBoth)
  const unsteady = leastOhm === null || mostOhm === null ? null : { leastOhm, mostOhm }
  if (unsteady && unsteady.leastOhm > unsteady.mostOhm) return fail(moreTexts.unsteadyOrder)
  const isElectrode = method === 'earthElectrode'
  if (isElectrode && (extras.spikeCurrentM === null) !== (extras.spikePotentialM === null)) {
    return fail(moreTexts.spikesBoth)
  }
  return ok({
    reverseOhm,
    unsteady,
    testCurrentA,
    metalC,
    trackerDeg,
    trying,
    photos,
    around: method === 'loopClamp' ? extras.around : null,
    spikesM: isElectrode ? spikesOf(extras) : null,
  })
}

/** Where a reading is taken by an instrument that reads no pair, or a sentence on what is missing. */
export function singleEnds(
  method: 'loopClamp' | 'earthElectrode',
  loopFrom: string | null,
  fromClip: Spot | null,
): Result<readonly [Spot, Spot], string> {
  if (method === 'loopClamp') {
    if (loopFrom === null) return fail(moreTexts.noAround)
    const spot: Spot = { part: loopFrom, spot: 'conductor', surface: 'bare' }
    return ok([spot, spot])
  }
  if (fromClip === null) return fail(moreTexts.noElectrode)
  if (parsePartAddress(fromClip.part)?.at === 'remoteEarth') return fail(entryTexts.samePart)
  return ok([fromClip, { part: 'earth', spot: 'unknown', surface: 'bare' }])
}

/** The pair of the plan that is being read, where both ends are those of the walk; nothing where another one is. */
export function plannedPair(
  plan: Plan | null,
  planPair: number | null,
  from: string | null,
  to: string | null,
): Pick<NotedOfReading, 'plan' | 'planPair'> | null {
  const pair = plan?.pairs.find(({ id }) => id === planPair)
  if (!plan || !pair || from === null || to === null) return null
  const isSame = (pair.from === from && pair.to === to) || (pair.from === to && pair.to === from)
  return isSame ? { plan: plan.id, planPair: pair.id } : null
}
