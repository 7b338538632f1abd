import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { FaultAnswer, FaultSweepAnswer, GroundStandAnswer } from '../model/faultAnswers.ts'

export interface PartVolts {
  readonly part: string
  readonly volt: number
}

export interface JointAmperes {
  readonly joint: string
  readonly currentA: number
}

/** Numbers of the values that are not 0, the largest first, of equal ones the lower number. */
function largestFirst(values: Float32Array): number[] {
  const found: number[] = []
  values.forEach((value, k) => {
    if (value !== 0) found.push(k)
  })
  return found.sort((k, l) => Math.abs(values[l]) - Math.abs(values[k]) || k - l)
}

/** Parts with volts, the most first. */
export function partVolts({ partV }: FaultAnswer, index: SiteIndex, most = Infinity): PartVolts[] {
  const listed = largestFirst(partV).slice(0, most)
  return listed.map((part) => ({ part: writePartAddress(partAddressAt(index, part)), volt: partV[part] }))
}

/** Joints with current, the most first, and how many there are. */
export function jointAmperes(
  { currentA }: FaultAnswer,
  index: SiteIndex,
  most = Infinity,
): { readonly rows: JointAmperes[]; readonly count: number } {
  const all = largestFirst(currentA)
  const address = (joint: number) => writeJointAddress(jointAddressAt(index, joint))
  const rows = all.slice(0, most).map((joint) => ({ joint: address(joint), currentA: currentA[joint] }))
  return { rows, count: all.length }
}

/** An answer for other programs: arrays by number as lists by address. */
export function faultDocument(
  answer: FaultAnswer,
  index: SiteIndex,
  losses: FaultSweepAnswer | null,
  ground: GroundStandAnswer | null,
) {
  const isByNumber = (key: string) => key === 'partV' || key === 'currentA'
  const rest = Object.fromEntries(Object.entries(answer).filter(([key]) => !isByNumber(key)))
  const { soundA, stops, watched, worst } = losses ?? {}
  return {
    ...rest,
    parts: partVolts(answer, index),
    joints: jointAmperes(answer, index).rows,
    ground: ground && withoutBasis(ground),
    losses: losses && { soundA, stops, watched, worst },
  }
}

function withoutBasis({ basis: _, ...rest }: GroundStandAnswer) {
  return rest
}
