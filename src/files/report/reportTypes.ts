import type {
  JudgeAnswer,
  JudgedReading,
  LocateAnswer,
  NullingAnswer,
  ReadingAnswer,
} from '../../model/answers.ts'
import type { ComparisonAnswer } from '../../model/comparison.ts'
import type { Defect } from '../../model/record/defects.ts'
import type { SignedState } from '../../model/record/signatures.ts'
import type { Criterion } from '../../model/schema/planning.ts'
import type { EntryOf, Kit, Lead, OhmOrOver, Spot } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'

/** What a report is made of. Answers are of `siteOfVisits(site, visits)`. */
export interface ReportInput {
  readonly site: Site
  /** Ids of the visits that it tells of. */
  readonly visits: readonly string[]
  readonly locate: LocateAnswer
  readonly judge: JudgeAnswer
  /** Readings held against their peers, for the plots; null where they are left out. */
  readonly comparison?: ComparisonAnswer | null
  /** When it is made, ISO 8601. */
  readonly madeAt: string
  /** SHA-256 of a text in hexadecimal digits; null where it is not known (yet). */
  readonly digestOf?: (text: string) => string | null
}

/** Every reading is in exactly one of these. */
export type ReportState =
  | 'within'
  | 'investigate'
  | 'reject'
  /** Above a level with the ohms of a lead that was not nulled, and as expected with them. */
  | 'leadIn'
  | 'overRange'
  | 'noMetalPath'
  | 'noCriterion'
  | 'notCounted'
  | 'withdrawn'

export interface ReportReading {
  readonly entry: string
  /** Place among the readings of the whole record, from 1: the number that the screen has. */
  readonly number: number
  readonly reading: EntryOf<'reading'>
  readonly kit: Kit | null
  /** Ohms that were read; null where the instrument showed over range. */
  readonly readOhm: number | null
  readonly atLeastOhm: number | null
  /** The least step that its instrument showed in these visits; null where it showed nothing but zeros. */
  readonly stepOhm: number | null
  readonly state: ReportState
  /** What the network says of it; null where it is withdrawn. */
  readonly answer: ReadingAnswer | null
  readonly judged: JudgedReading | null
  readonly isCorrected: boolean
}

export interface ReadingGroup {
  /** Criterion of the pairs; null where none applies. */
  readonly criterion: Criterion | null
  readonly method: EntryOf<'reading'>['method']
  readonly readings: readonly ReportReading[]
}

export type KitWarning =
  | { readonly warning: 'noCalibration' }
  | { readonly warning: 'calibrationPast'; readonly due: string }
  | { readonly warning: 'noCheck' }
  | { readonly warning: 'checkOff'; readonly byOhm: number; readonly allowedOhm: number }

export interface ReportKit {
  readonly kit: Kit
  readonly warnings: readonly KitWarning[]
  readonly readings: number
}

export interface ReportVisit {
  readonly visit: EntryOf<'visit'>
  readonly number: number
  /** Instants of its first and last entry. */
  readonly from: string
  readonly to: string
  readonly readings: number
  readonly kits: readonly ReportKit[]
  readonly leads: readonly Lead[]
  readonly amendments: number
}

export interface ReportNulling {
  readonly answer: NullingAnswer
  readonly number: number
  /** Null where readings were taken without one. */
  readonly nulling: EntryOf<'nulling'> | null
  readonly kitName: string
  readonly leadName: string | null
  /** Leads shorted and read before the next nulling; the last one closes the interval. */
  readonly checks: readonly EntryOf<'leadCheck'>[]
}

export interface ReportCriterion {
  readonly criterion: Criterion
  /** How many readings are held against it. */
  readonly readings: number
  readonly lowCurrent: number
  readonly isOtherQuantity: boolean
}

/** A change of the record that stands beside what it changed. */
export interface ReportChange {
  readonly entry: EntryOf<'correction'> | EntryOf<'withdrawal'>
  /** Number of the reading that it is about; null where it is about something else. */
  readonly number: number | null
  readonly ofSort: string
  readonly first: OhmOrOver | null
  readonly now: OhmOrOver | null
  readonly movedFrom: Spot | null
  readonly movedTo: Spot | null
  /** The change was itself taken back. */
  readonly isTakenBack: boolean
}

export interface ReportSignature {
  readonly signature: EntryOf<'signature'>
  readonly state: SignedState
  /** Entries that changed or joined what it stands for since. */
  readonly reopenedBy: readonly string[]
}

export interface ReportData {
  readonly site: Site
  readonly madeAt: string
  readonly isAllVisits: boolean
  readonly locate: LocateAnswer
  readonly comparison: ComparisonAnswer | null
  readonly visits: readonly ReportVisit[]
  readonly nullings: readonly ReportNulling[]
  readonly volts: readonly EntryOf<'volts'>[]
  readonly criteria: readonly ReportCriterion[]
  /** Every reading of these visits that is not withdrawn, in exactly one group. */
  readonly groups: readonly ReadingGroup[]
  readonly withdrawn: readonly ReportReading[]
  readonly counts: Readonly<Record<ReportState, number>>
  readonly looks: readonly EntryOf<'look'>[]
  readonly repairs: readonly EntryOf<'repair'>[]
  /** Readings that repeat another one. */
  readonly retests: readonly ReportReading[]
  readonly defects: readonly Defect[]
  readonly notes: readonly EntryOf<'note'>[]
  readonly changes: readonly ReportChange[]
  readonly signatures: readonly ReportSignature[]
}
