/**
 * Expected trouble, as data: a code, where it is, and the facts that a sentence about it needs. No prose:
 * text/problems.ts has the sentence for every code.
 */
export interface Where {
  /** File name as the user gave it; `standard input` for a pipe. */
  readonly file?: string
  /** Place in the JSON document, e.g. ['drawing', 'rows', 3, 'bearingDeg']. */
  readonly path?: readonly (string | number)[]
  readonly line?: number
  readonly column?: number
  /** A part or joint, where one is concerned. */
  readonly address?: string
  /** A record entry's id, where one is concerned. */
  readonly entry?: string
}

interface Facts {
  // file
  'file.missing': { readonly reason: string }
  'file.tooLarge': { readonly bytes: number; readonly mostBytes: number }
  'file.tooLongToSave': { readonly bytes: number; readonly mostBytes: number }
  'file.empty': Record<never, never>
  'file.notText': Record<never, never>
  'file.notJson': { readonly reason: string; readonly truncated: boolean }
  'file.notASite': { readonly found: string }
  'file.newerVersion': { readonly version: number; readonly known: number }
  'file.badVersion': { readonly found: string }
  'file.notWritten': { readonly reason: string }
  'file.several': { readonly count: number }
  'file.notTable': Record<never, never>
  'file.notGeoJson': { readonly found: string }
  // value
  'value.unknownKey': { readonly keys: readonly string[] }
  'value.missing': { readonly expected: string }
  'value.wrong': { readonly expected: string; readonly found: string }
  'value.outOfRange': { readonly expected: string; readonly found: string }
  'value.inconsistent': { readonly reason: string }
  // reference
  'reference.badAddress': { readonly text: string; readonly expected: 'part' | 'joint' }
  'reference.noSuchPart': { readonly text: string; readonly nearest: string | null }
  'reference.noSuchJoint': { readonly text: string; readonly nearest: string | null }
  'reference.duplicateId': { readonly what: string; readonly id: string }
  'reference.unknownName': { readonly what: string; readonly name: string }
  'reference.idNotCounted': { readonly what: string; readonly id: number; readonly next: number }
  'reference.samePart': { readonly text: string }
  'reference.conflict': { readonly id: string }
  'reference.otherSite': { readonly found: string; readonly expected: string }
  // edits
  'edit.notThere': { readonly what: string; readonly id: string }
  'edit.inUse': { readonly what: string; readonly id: string; readonly users: number }
  'edit.orphans': { readonly addresses: readonly string[]; readonly total: number }
  // labels that are painted by a rule
  'label.placeholder': { readonly found: string; readonly counted: readonly ('row' | 'table')[] }
  'label.noLetter': { readonly counted: 'row' | 'table' }
  // size
  'size.tooManyJoints': { readonly joints: number; readonly most: number }
  'size.tooMany': { readonly what: string; readonly found: number; readonly most: number }
  // kept on this device; names are those of sites, times are ISO 8601 in the device's own zone
  'storage.blocked': { readonly reason: string }
  'storage.newer': Record<never, never>
  'storage.closed': Record<never, never>
  'storage.full': { readonly name: string | null; readonly bytes: number; readonly freeBytes: number | null }
  'storage.failed': { readonly doing: 'read' | 'write'; readonly reason: string }
  'storage.notThere': Record<never, never>
  'storage.conflict': { readonly name: string; readonly savedAt: string; readonly keptAs: string }
  'storage.damaged': { readonly name: string; readonly savedAt: string; readonly olderSavedAt: string | null }
  'storage.recovered': { readonly names: readonly string[] }
  'storage.heldElsewhere': Record<never, never>
  // photos, by their SHA-256
  'photo.tooLarge': { readonly bytes: number; readonly mostBytes: number }
  'photo.notThere': { readonly sha256: string }
  'photo.damaged': { readonly sha256: string }
  'photo.inUse': { readonly sha256: string }
  'zip.refused': {
    readonly reason: 'broken' | 'tooMany' | 'encrypted' | 'twice' | 'name' | 'noSite' | 'tooLarge'
    readonly name: string
  }
  'photo.notAPhoto': { readonly found: string }
  // numeric
  'numeric.residual': { readonly residual: number; readonly most: number }
  // asked for something that cannot be answered
  'command.unknown': { readonly given: string; readonly known: readonly string[] }
  'command.usage': { readonly usage: string; readonly reason: string }
  'command.noReadings': Record<never, never>
  // practice drill
  'drill.none': Record<never, never>
  'drill.over': Record<never, never>
  'drill.nothingToHide': Record<never, never>
  'drill.unseen': Record<never, never>
  'drill.nothingRead': Record<never, never>
  'drill.noSuchReading': { readonly reading: number; readonly readings: number }
  'drill.changed': Record<never, never>
  'drill.mayNotAsk': Record<never, never>
  'drill.nothingToGoOn': Record<never, never>
  'drill.calledBefore': { readonly what: string }
  cancelled: Record<never, never>
}

export type ProblemCode = keyof Facts

export type Problem = {
  readonly [C in ProblemCode]: { readonly code: C; readonly where: Where; readonly facts: Facts[C] }
}[ProblemCode]

export type ProblemFacts = Facts

export function problem<C extends ProblemCode>(code: C, facts: Facts[C], where: Where = {}): Problem {
  return { code, where, facts } as unknown as Problem
}
