import { isOpenDefect } from '../../model/record/defects.ts'
import {
  signaturesOf,
  signedState,
  signedText,
  toSign,
  type PlanPoint,
  type Reopening,
  type SignedState,
} from '../../model/record/signatures.ts'
import { sameContent } from '../../model/sameContent.ts'
import type { Problem } from '../../model/problem.ts'
import type { EntryOf } from '../../model/schema/record.ts'
import type { AppState } from '../../state/appState.ts'
import { writtenSignature, type Signing } from '../../state/fieldEntries.ts'
import { signTexts } from '../../text/signText.ts'
import { describeProblem } from '../../text/problems.ts'
import { defectsNow } from './fieldWork.ts'

export interface SignedSheet {
  readonly signature: EntryOf<'signature'>
  readonly state: SignedState
}

/** Every signature of the open site with how it stands, the newest first. */
export function sheetsNow({
  session,
  digests,
}: Pick<AppState, 'session' | 'digests'>): readonly SignedSheet[] {
  const { site } = session
  if (!site) return []
  return signaturesOf(site.record)
    .map((signature) => ({ signature, state: signedState(site, signature, digests.of) }))
    .toReversed()
}

/** Of each who signed, for a visit or a point, the newest signature that is not withdrawn. */
export function latestOfEach(sheets: readonly SignedSheet[]): readonly SignedSheet[] {
  const seen = new Set<string>()
  return sheets.filter(({ signature, state }) => {
    if (state.state === 'withdrawn') return false
    const { visit, role, name, plan, planPair } = signature
    const key = JSON.stringify([visit, role, plan === null ? name : '', plan, planPair])
    return !seen.has(key) && seen.add(key)
  })
}

/** What reopened a sheet; empty where nothing did. */
export function reopeningsOf(state: SignedState): readonly Reopening[] {
  return state.state === 'reopened' || state.state === 'unchecked' ? state.by : []
}

export function openDefectLabels(app: Pick<AppState, 'session' | 'results'>): readonly string[] {
  return defectsNow(app)
    .filter(isOpenDefect)
    .map(({ label }) => label)
}

/**
 * Signs a visit, or a point of a plan, as it was shown: entries that came in meanwhile are not signed unseen.
 * @returns a sentence where it could not be signed, else null
 */
export async function signNow(
  { session, identity, digests }: Pick<AppState, 'session' | 'identity' | 'digests'>,
  visit: string,
  point: PlanPoint | null,
  signing: Signing,
): Promise<string | null> {
  const { site } = session
  if (!site) return null
  const what = toSign(site, visit, point)
  const text = signedText(site.record, what)
  const digest = text === null ? null : await digests.make(text)
  if (digest === null) return signTexts.noDigest
  if (!session.site || !sameContent(toSign(session.site, visit, point), what)) return signTexts.changed
  const problem: Problem | null = session.append(
    writtenSignature(session.site, identity, visit, signing, what, digest),
  )
  return problem ? describeProblem(problem) : null
}
