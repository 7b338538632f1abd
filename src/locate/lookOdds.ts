import { jointIndexOf } from '../layout/jointIndex.ts'
import { parseJointAddress } from '../model/address.ts'
import { changesJoint } from '../model/record/changesJoint.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import type { Network } from '../network/compile.ts'

/** What looks and torque checks add to the ln odds of a joint to be open, and to be raised; by edge. */
export type LookOdds = ReadonlyMap<number, { readonly logOpen: number; readonly logRaised: number }>

export const noLooks: LookOdds = new Map()

type Look = EntryOf<'look'>

/** Chances of what a look finds: on an open joint, on a raised one, on a sound one. */
interface Chances {
  readonly open: number
  readonly raised: number
  readonly sound: number
}

/**
 * Judgement, from memory: what is gone or broken is seldom imagined; what is loose or corroded often still conducts; a
 * joint that looks sound clears an open one better than a raised one.
 */
const byFinding: Readonly<Record<Look['findings'][number], Chances>> = {
  sound: { open: 0.2, raised: 0.5, sound: 0.98 },
  loose: { open: 0.15, raised: 0.2, sound: 0.006 },
  corroded: { open: 0.1, raised: 0.15, sound: 0.008 },
  coatingNotPierced: { open: 0.15, raised: 0.08, sound: 0.003 },
  washerMissing: { open: 0.05, raised: 0.1, sound: 0.008 },
  dissimilarMetals: { open: 0.04, raised: 0.06, sound: 0.01 },
  partMissing: { open: 0.2, raised: 0.02, sound: 0.0005 },
  broken: { open: 0.2, raised: 0.03, sound: 0.0005 },
  other: { open: 0.05, raised: 0.05, sound: 0.005 },
}
const torqueLow: Chances = { open: 0.6, raised: 0.5, sound: 0.05 }
const torqueHeld: Chances = { open: 0.3, raised: 0.45, sound: 0.94 }
const lowTorqueShare = 0.6
/** A joint that was repaired and not looked at since: this share of its former odds. */
const repairedShare = 0.1

/** What was found that speaks loudest: findings of one look are one witness. */
function loudest(findings: Look['findings']): Chances {
  const odds = ({ raised, sound }: Chances) => raised / sound
  return findings.map((one) => byFinding[one]).reduce((best, one) => (odds(one) > odds(best) ? one : best))
}

function chancesOf({ findings, torqueAskedNm, torqueFoundNm }: Look): readonly Chances[] {
  const looked = loudest(findings)
  if (torqueAskedNm === null || torqueFoundNm === null) return [looked]
  return [looked, torqueFoundNm < lowTorqueShare * torqueAskedNm ? torqueLow : torqueHeld]
}

/**
 * Goes through the record in canonical order: every look at a joint counts until the joint is repaired, which leaves a
 * tenth of the catalogue's odds. Of looks that found the same, the first counts: the second is no new witness.
 */
export function lookOdds({ record }: Site, { index, edgeOfJoint }: Network): LookOdds {
  const odds = new Map<number, { logOpen: number; logRaised: number }>()
  const found = new Map<number, Set<string>>()
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (withdrawnBy !== null || (entry.entry !== 'look' && entry.entry !== 'repair')) continue
    const address = parseJointAddress(entry.joint)
    const joint = address ? jointIndexOf(index, address) : -1
    const edge = joint < 0 ? -1 : edgeOfJoint[joint]
    if (edge < 0) continue
    if (entry.entry === 'repair') {
      if (!changesJoint(entry)) continue
      odds.set(edge, { logOpen: Math.log(repairedShare), logRaised: Math.log(repairedShare) })
      found.delete(edge)
      continue
    }
    const before = found.get(edge) ?? new Set<string>()
    found.set(edge, before)
    const chances = chancesOf(entry)
    const key = chances.map((one) => `${one.open} ${one.raised}`).join('/')
    if (before.has(key)) continue
    before.add(key)
    const sum = odds.get(edge) ?? { logOpen: 0, logRaised: 0 }
    for (const { open, raised, sound } of chances) {
      sum.logOpen += Math.log(open / sound)
      sum.logRaised += Math.log(raised / sound)
    }
    odds.set(edge, sum)
  }
  return odds
}

/** Joints that a look found something wrong with, ascending: suspects whether or not a reading crosses them. */
export function foundByLooking(looks: LookOdds): Int32Array {
  return Int32Array.from([...looks].flatMap(([edge, { logRaised }]) => (logRaised > 0 ? [edge] : []))).sort()
}
