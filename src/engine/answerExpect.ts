import { ok, type Result } from '../base/result.ts'
import { lowCurrentOf } from '../compare/judgeReading.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import type { ExpectAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import { criterionFor } from '../model/queries/criterionFor.ts'
import type { Site } from '../model/schema/site.ts'
import { levelsFor } from '../reading/criterionLevels.ts'
import { soundContact } from '../reading/contact.ts'
import { digitsSdOhm, gainSd } from '../reading/kitError.ts'
import { leadOhm } from '../reading/leadOhm.ts'
import { leadOffsetOhm } from '../reading/nulling.ts'
import { askPair, resistanceOfPair } from './answerResistance.ts'
import type { Progress } from './progress.ts'
import type { ExpectInput } from './requests.ts'
import type { SiteCache } from './siteCache.ts'

/**
 * What a sound array would read between two parts with an instrument and a lead (docs/model.md §6):
 *
 *     mean = network + contact + lead,   variance = network² + contact² + digits² + (gain · network)² + lead²
 *
 * Contact and lead drop out of a four-wire reading. The lead is taken at the site's ambient temperature.
 */
export function* answerExpect(
  input: ExpectInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<ExpectAnswer, readonly Problem[]>> {
  const asked = yield* askPair(input, site, cache)
  if (!asked.ok) return asked
  const { prepared, pair } = asked.value
  const {
    basis,
    from,
    to,
    path,
    resistanceOhm,
    expectedOhm: networkOhm,
    spreadOhm,
  } = yield* resistanceOfPair(site, asked.value)
  const { index } = prepared.network
  const criterion = criterionFor(site.drawing, partAddressAt(index, pair.a), partAddressAt(index, pair.b))
  const { contact, lead, kitSdOhm } = termsOf(input, site.drawing.facts.ambientC, networkOhm)
  const expectedOhm = networkOhm + contact.mean + lead.mean
  return ok({
    basis,
    from,
    to,
    path,
    resistanceOhm,
    networkOhm,
    contactOhm: contact.mean,
    leadOffsetOhm: lead.mean,
    expectedOhm,
    spreadOhm: path === 'none' ? 0 : Math.hypot(spreadOhm, contact.sd, lead.sd, kitSdOhm),
    beyondRange: expectedOhm > (input.kit?.mostOhm ?? Infinity) || path === 'none',
    criterion: {
      ...levelsFor(prepared, criterion, pair.a, pair.b),
      lowCurrent: lowCurrentOf(
        criterion,
        input.kit?.testCurrentA ?? null,
        Number.isFinite(expectedOhm)
          ? { form: 'ohm', ohm: expectedOhm }
          : { form: 'over', atLeastOhm: input.kit?.mostOhm ?? Infinity },
      ),
    },
  })
}

const nothing = { mean: 0, sd: 0 }

/** What instrument, clips and lead add to a reading of `networkOhm`. */
function termsOf({ kit, lead, isNulled }: ExpectInput, ambientC: number, networkOhm: number) {
  if (!kit) return { contact: nothing, lead: nothing, kitSdOhm: 0 }
  const kitSdOhm = Math.hypot(digitsSdOhm(kit), gainSd(kit) * (networkOhm === Infinity ? 0 : networkOhm))
  if (kit.method !== 'twoWire') return { contact: nothing, lead: nothing, kitSdOhm }
  return {
    contact: { mean: soundContact.meanOhm, sd: soundContact.sdOhm },
    lead: leadOffsetOhm(lead ? leadOhm(lead, ambientC) : 0, isNulled ?? true),
    kitSdOhm,
  }
}
