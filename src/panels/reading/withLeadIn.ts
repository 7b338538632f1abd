import type { Expectation } from '../../compare/firstVerdict.ts'
import type { ExpectAnswer } from '../../model/answers.ts'
import type { Lead } from '../../model/schema/record.ts'
import { leadOhm } from '../../reading/leadOhm.ts'
import { leadOffsetOhm } from '../../reading/nulling.ts'

/**
 * What is expected through a lead that is not nulled: its own ohms on top, where they are not counted yet because the
 * question was put before anyone said so.
 */
export function withLeadIn(
  known: Expectation,
  asked: Pick<ExpectAnswer, 'leadOffsetOhm'> | null,
  lead: Lead | null | undefined,
  ambientC: number,
): Expectation {
  if (!lead) return known
  const { mean, sd } = leadOffsetOhm(leadOhm(lead, ambientC), false)
  const missingOhm = mean - (asked?.leadOffsetOhm ?? 0)
  if (missingOhm < mean / 2) return { ...known, isLeadIn: true }
  const spreadOhm = Math.hypot(known.spreadOhm, sd)
  return { ...known, expectedOhm: known.expectedOhm + missingOhm, spreadOhm, isLeadIn: true }
}
