import type { TypedSite } from '../typedSite.ts'

/** What a crew does next. */
export type Action =
  | { readonly do: 'read'; readonly from: string; readonly to: string }
  | { readonly do: 'repeat'; readonly reading: string }
  | { readonly do: 'shortLeads' }
  | { readonly do: 'look'; readonly joints: readonly string[]; readonly withTorque: boolean }
  | { readonly do: 'leaveOff' }

/** A way of going about it: from all that is on file to the next action. */
export interface Policy {
  readonly name: string
  next(typed: TypedSite): Action
}

/** Joints that someone has looked at, or only those that were also checked with a wrench. */
export function lookedAt({ site }: TypedSite, withTorque = false): ReadonlySet<string> {
  return new Set(
    site.record.flatMap((entry) =>
      entry.entry === 'look' && (!withTorque || entry.torqueAskedNm !== null) ? [entry.joint] : [],
    ),
  )
}
