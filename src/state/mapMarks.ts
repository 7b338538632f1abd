import type { PointM } from '../model/schema/primitives.ts'
import { parseJointAddress, parsePartAddress } from '../model/address.ts'
import type { LocateAnswer } from '../model/answers.ts'
import type { WalkPath } from '../model/walkPath.ts'
import { jointIndexOf } from '../layout/jointIndex.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { Picked } from './picked.ts'
import { labelTimes } from '../text/readingLookText.ts'
import { lookOf, type LineLook, type ReadingVerdicts } from './readingLook.ts'
import { timesLookOf, type ReadingsBy } from './readingTimes.ts'

/** One reading as an edge of the map, between two parts; or a pair of a plan, which is drawn and hit as a reading is. */
export interface ReadingMark {
  readonly entry: string
  /** Part indices of the two ends. */
  readonly from: number
  readonly to: number
  readonly look: LineLook
  /** What was read, with its unit, or how many times what was expected; of a pair of a plan its place in it. */
  readonly label: string
  readonly isPicked: boolean
}

export interface SuspectMark {
  /** Joint index. */
  readonly joint: number
  readonly probability: number
  /** 1 for the first group; all joints of a group have its rank. */
  readonly rank: number
  readonly isPicked: boolean
}

/** Everything that lies over the drawing of the array. */
export interface MapMarks {
  readonly readings: readonly ReadingMark[]
  readonly suspects: readonly SuspectMark[]
  /** Per joint index: share of one ampere through the chosen pair; null when no current is shown. */
  readonly currentPerAmpere: Float32Array | null
  readonly picked: Picked | null
  readonly hovered: Picked | null
  /** Part index from which a pair is being linked, and the part it would be linked to. */
  readonly pairFrom: number | null
  readonly pairTo: number | null
  /** The pair that is to be read next, or the one that is pointed at among such; part indices. */
  readonly next: NextPair | null
  /** By joint index: the number in `sights` of how its going bad would show in a plan; null where none is looked at. */
  readonly sights?: Uint8Array | null
  /** The way of a walk on the ground; null where none is shown. */
  readonly walk?: WalkPath | null
  /** Where the device is, while that is shown. */
  readonly here?: HereMark | null
  /** A fault that is looked at; null where none is. */
  readonly fault?: FaultMarks | null
}

/** A fault on the map: volts of parts or of lost joints as tints, amperes as lines, and who and what stands where. */
export interface FaultMarks {
  /** By part number, volts to remote earth; null where the losses of joints are shown. */
  readonly partV: Float32Array | null
  /** By joint number, volts across its own ends once it is lost; null where volts of parts are shown. */
  readonly lossV: Float32Array | null
  /** By joint number, amperes from its first part to its second; null where none are shown. */
  readonly currentA: Float32Array | null
  /** Amperes that are drawn at full width. */
  readonly mostA: number
  /** Part numbers. */
  readonly at: number
  readonly second: number | null
  readonly person: { readonly hand: number; readonly other: number | null } | null
  /** Joint numbers of what is changed in the question. */
  readonly altered: readonly number[]
  /** What is shown of the ground; left out where nothing is. */
  readonly ground?: GroundMarks | null
  /** The dashes that move with the current stand still. */
  readonly isPaused: boolean
}

/** Volts of the ground on a grid of points, row by row from `fromM`, each row a step further north. */
export interface GroundPicture {
  readonly fromM: PointM
  readonly stepM: number
  readonly across: number
  readonly high: number
  readonly volt: Float32Array
}

/** The ground while a fault flows: its volts, where the largest step is, where somebody stands and puts the other foot. */
export interface GroundMarks {
  readonly picture: GroundPicture | null
  readonly mostStep: { readonly fromM: PointM; readonly toM: PointM } | null
  readonly stand: { readonly atM: PointM; readonly otherM: PointM } | null
}

export interface HereMark {
  readonly atM: PointM
  /** Radius within which the device is, as it says itself. */
  readonly accuracyM: number
}

export interface NextPair {
  readonly from: number
  readonly to: number
}

export const noMarks: MapMarks = {
  readings: [],
  suspects: [],
  currentPerAmpere: null,
  picked: null,
  hovered: null,
  pairFrom: null,
  pairTo: null,
  next: null,
}

/** Part index of an address text; null when it names no part of the drawing. */
export function partOf(index: SiteIndex, text: string | null): number | null {
  const address = text === null ? null : parsePartAddress(text)
  const part = address && address.at !== 'remoteEarth' ? partIndexOf(index, address) : -1
  return part >= 0 ? part : null
}

/** Joint index of an address text; null when it names no joint of the drawing. */
export function jointOf(index: SiteIndex, text: string): number | null {
  const address = parseJointAddress(text)
  const joint = address ? jointIndexOf(index, address) : -1
  return joint >= 0 ? joint : null
}

/** Part indices of a pair of address texts; null where one of them is not drawn, or both are the same part. */
export function nextPair(
  index: SiteIndex,
  pair: { readonly from: string; readonly to: string } | null,
): NextPair | null {
  const from = pair && partOf(index, pair.from)
  const to = pair && partOf(index, pair.to)
  return from === null || to === null || from === to ? null : { from, to }
}

export interface DrawnReading {
  readonly entry: string
  readonly from: string
  readonly to: string
  readonly label: string
}

/** Readings with their looks, by what was found or as multiples of what was expected; those whose ends are not drawn have no place on the map. */
export function readingMarks(
  index: SiteIndex,
  readings: readonly DrawnReading[],
  verdicts: ReadingVerdicts,
  picked: Picked | null,
  by: ReadingsBy = 'finding',
): readonly ReadingMark[] {
  return readings.flatMap(({ entry, from, to, label }): ReadingMark[] => {
    const a = partOf(index, from)
    const b = partOf(index, to)
    if (a === null || b === null || a === b) return []
    const isPicked = picked?.kind === 'reading' && picked.entry === entry
    if (by === 'finding') return [{ entry, from: a, to: b, look: lookOf(entry, verdicts), label, isPicked }]
    const { look, times } = timesLookOf(entry, verdicts)
    const isMultiple = times !== null || look === 'timesNear'
    return [{ entry, from: a, to: b, look, label: isMultiple ? labelTimes(times) : label, isPicked }]
  })
}

/** Below this a joint is not tinted: it would look like a suspicion where there is none. */
const leastShown = 0.01

/** The joints of the ranked groups, first group first. */
export function suspectMarks(
  index: SiteIndex,
  locate: LocateAnswer | null,
  picked: Picked | null,
): readonly SuspectMark[] {
  return (locate?.groups ?? []).flatMap((group, k) =>
    group.probability < leastShown
      ? []
      : group.joints.flatMap((suspect): SuspectMark[] => {
          const joint = jointOf(index, suspect.joint)
          if (joint === null) return []
          const isPicked =
            (picked?.kind === 'suspect' && group.joints[0].joint === picked.joint) ||
            (picked?.kind === 'joint' && picked.address === suspect.joint)
          return [{ joint, probability: suspect.probability, rank: k + 1, isPicked }]
        }),
  )
}
