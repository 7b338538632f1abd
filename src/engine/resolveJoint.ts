import { fail, ok, type Result } from '../base/result.ts'
import { jointIndexOf } from '../layout/jointIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parseJointAddress } from '../model/address.ts'
import { problem, type Problem } from '../model/problem.ts'

/** The number of a joint, or why the text names none. */
export function resolveJoint(index: SiteIndex, text: string): Result<number, Problem> {
  const address = parseJointAddress(text.trim())
  if (!address) return fail(problem('reference.badAddress', { text, expected: 'joint' }))
  const joint = jointIndexOf(index, address)
  return joint >= 0
    ? ok(joint)
    : fail(problem('reference.noSuchJoint', { text, nearest: null }, { address: text }))
}
