import type { ProposedStep } from '../model/record/defects.ts'
import { nextDefectNumber } from '../model/record/defects.ts'
import type { ToSign } from '../model/record/signatures.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { nextStamp } from './entries.ts'
import type { Identity } from './identity.ts'

/** What a person says of an entry; the rest is identity and visit. */
type Said<K extends 'look' | 'repair' | 'defect' | 'defectStep' | 'signature'> = Omit<
  EntryOf<K>,
  'id' | 'device' | 'counter' | 'at' | 'visit' | 'entry'
>
export type TypedLook = Said<'look'>
export type TypedRepair = Said<'repair'>

export function writtenLook(site: Site, identity: Identity, visit: string, said: TypedLook): EntryOf<'look'> {
  return { ...nextStamp(site, identity), entry: 'look', visit, ...said }
}

export function writtenRepair(
  site: Site,
  identity: Identity,
  visit: string,
  said: TypedRepair,
): EntryOf<'repair'> {
  return { ...nextStamp(site, identity), entry: 'repair', visit, ...said }
}

/** A new defect, numbered after all that the record has. */
export function openedDefect(
  site: Site,
  identity: Identity,
  visit: string,
  said: Omit<Said<'defect'>, 'number'>,
): EntryOf<'defect'> {
  const number = nextDefectNumber(site.record)
  return { ...nextStamp(site, identity), entry: 'defect', visit, number, ...said }
}

export function writtenStep(
  site: Site,
  identity: Identity,
  visit: string,
  of: string,
  { state, joint, proof }: ProposedStep,
  note: string,
): EntryOf<'defectStep'> {
  return {
    ...nextStamp(site, identity),
    entry: 'defectStep',
    visit,
    of,
    state,
    joint,
    proof: [...proof],
    note,
  }
}

/** Who signs, and what is said with it. */
export type Signing = Pick<EntryOf<'signature'>, 'role' | 'name' | 'note'>

export function writtenSignature(
  site: Site,
  identity: Identity,
  visit: string,
  signing: Signing,
  what: ToSign,
  digest: string,
): EntryOf<'signature'> {
  return { ...nextStamp(site, identity), entry: 'signature', visit, ...signing, ...what, digest }
}
