import { present } from '../../src/base/assert.ts'
import type { RandomStream } from '../../src/base/random.ts'
import type { JointKind } from '../../src/model/schema/jointKind.ts'
import type { Kit, Lead } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { riseOhm } from '../../src/network/jointSweep.ts'
import { assumptions, levelLnSd } from '../../src/reading/assumptions.ts'
import { soundContact } from '../../src/reading/contact.ts'
import { digitsSdOhm } from '../../src/reading/kitError.ts'
import { leadOhm } from '../../src/reading/leadOhm.ts'
import { leadOffsetOhm } from '../../src/reading/nulling.ts'
import { graphOf } from '../network/patchedNetworks.ts'
import { rebuild } from '../network/rebuiltNetwork.ts'
import { barName, barSite, withVisit, type BarJoint, type Read } from './barSite.ts'

/*
 * A small site and a visit to it, drawn from what the program says that it assumes: docs/model.md, sections 6, 7 and
 * 9. Nothing is taken from the inference but its constants. A normal distribution is drawn where the assumptions name
 * a standard deviation, a log-normal where they name an ln-spread, a rectangular one where they name limits; what the
 * inference then makes normal is part of what is tested. Networks are solved by ml-matrix.
 */

const { contact } = assumptions
/** Chance of a reading that is wrong in some other way; its density is 1/(1 + y)². */
const otherwiseWrong = 0.002
/** Two of the readings' own standard deviations, all together, are the least that counts as visible. */
const leastShift = 2

/** Shares of the catalogue's rates that a site may have as a common cause; `kind`: of one kind only. */
const commonCauses: readonly { of: 'site' | 'kind'; factor: number; share: number }[] = [
  { of: 'site', factor: 1 / 3, share: 0.85 * 0.4 },
  { of: 'site', factor: 1, share: 0.85 * 0.35 },
  { of: 'site', factor: 3, share: 0.85 * 0.15 },
  { of: 'site', factor: 10, share: 0.85 * 0.07 },
  { of: 'site', factor: 30, share: 0.85 * 0.025 },
  { of: 'site', factor: 100, share: 0.85 * 0.005 },
  { of: 'kind', factor: 10, share: 0.05 },
  { of: 'kind', factor: 100, share: 0.05 },
]

export interface Plan {
  readonly bars: number
  readonly joints: readonly BarJoint[]
  /** Those whose ohms are not computed. */
  readonly kinds: readonly JointKind[]
  readonly kit: Kit
  readonly lead: Lead
  readonly pairs: readonly { readonly from: number; readonly to: number; readonly nulled?: boolean }[]
  /** Between two readings. */
  readonly minutes: number
}

export interface DrawnVisit {
  readonly site: Site
  /** Per joint: what it has gained, 0 where it is sound, Infinity where it is open. */
  readonly addedOhm: readonly number[]
  readonly isVisible: readonly boolean[]
  /** What each nulling left. */
  readonly offsetOhm: readonly number[]
}

export function siteOf({ bars, joints, kinds }: Plan): Site {
  return barSite(bars, joints, kinds)
}

/** Joints with what the catalogue says of their kinds. */
function catalogued(plan: Plan) {
  const { jointKinds } = siteOf(plan).drawing
  return plan.joints.map((joint) => {
    const kind = present(
      jointKinds.find(({ id }) => id === joint.kind),
      joint.kind,
    )
    return { ...joint, ...kind, medianOhm: present(joint.medianOhm ?? kind.medianOhm, 'a median') }
  })
}

function pick(random: RandomStream, weights: readonly number[]): number {
  let left = random.uniform() * weights.reduce((sum, w) => sum + w, 0)
  for (let k = 0; k < weights.length - 1; k++) {
    left -= weights[k]
    if (left < 0) return k
  }
  return weights.length - 1
}

/** Open with one half, else log-uniform from the larger of the median and 1 mΩ up to 1000 Ω. */
function drawSeverity(random: RandomStream, medianOhm: number): number {
  if (random.uniform() < 0.5) return Infinity
  const from = Math.max(medianOhm, 0.001)
  return from * (1000 / from) ** random.uniform()
}

/** Any number of bad joints: independent of each other given a common cause that changes their odds. */
function drawBad(plan: Plan, random: RandomStream): number[] {
  const joints = catalogued(plan)
  const odds = joints.map(({ defectRate }) => defectRate / (1 - defectRate))
  const severity = (k: number) => drawSeverity(random, joints[k].medianOhm)
  const shares = commonCauses.map(({ share }) => share)
  const { of, factor } = commonCauses[pick(random, shares)]
  const kind = plan.kinds[random.integer(plan.kinds.length)].id
  return joints.map((joint, k) => {
    const isMeant = of === 'site' || joint.kind === kind
    const own = isMeant ? Math.min(odds[k] * factor, Math.max(odds[k], 1)) : odds[k]
    return random.uniform() < own / (1 + own) ? severity(k) : 0
  })
}

/** Joints log-normal about the level of their kind, and what is bad on top. */
function drawOhm(plan: Plan, random: RandomStream, addedOhm: readonly number[]): number[] {
  const joints = catalogued(plan)
  const ids = [...new Set(joints.map(({ kind }) => kind))]
  const level = new Map(ids.map((id) => [id, Math.exp(levelLnSd(id) * random.normal())]))
  return joints.map(({ kind, medianOhm, lnSpread }, k) => {
    const scatter = Math.exp(lnSpread * random.normal())
    return medianOhm * present(level.get(kind), kind) * scatter + addedOhm[k]
  })
}

const solved = ({ bars, joints }: Plan, ohm: readonly number[]) =>
  rebuild(
    graphOf(
      bars,
      joints.map(({ from, to }): [number, number] => [from, to]),
    ),
    ohm.map((x) => 1 / x),
  )

/** Whether each joint, bad as it is and alone, moves the readings enough to be counted as visible. */
export function visibleIn(plan: Plan, addedOhm: readonly number[]): boolean[] {
  const median = catalogued(plan).map(({ medianOhm }) => medianOhm)
  const { currents, resistance } = solved(plan, median)
  const own = Math.hypot(soundContact.sdOhm, digitsSdOhm(plan.kit))
  const shares = plan.pairs.map(({ from, to }) => currents(from, to))
  return plan.joints.map(({ from, to }, e) => {
    const perOhm = Math.hypot(...shares.map((i) => i[e] ** 2 / own))
    const slack = 1 - resistance(from, to) / median[e]
    return addedOhm[e] > 0 && riseOhm(perOhm, Math.max(0, slack) / median[e], addedOhm[e]) >= leastShift
  })
}

function drawPoorContact(random: RandomStream): number {
  const which = random.uniform()
  if (which < contact.poorOverRange) return Infinity
  if (which < contact.poorOverRange + contact.poorHigh)
    return contact.poorHighFromOhm * (contact.poorHighToOhm / contact.poorHighFromOhm) ** random.uniform()
  return contact.poorMedianOhm * Math.exp(contact.poorLnSpread * random.normal())
}

/** What the display shows of one reading; null for over range. */
function drawReading(
  random: RandomStream,
  kit: Kit,
  networkOhm: number,
  leadsOhm: number,
  gain: number,
): number | null {
  const clips = contact.medianOhm * Math.exp(contact.lnSpread * random.normal())
  const digits = kit.digits * kit.resolutionOhm * (2 * random.uniform() - 1)
  const beside = clips + leadsOhm + digits
  const rates = [contact.poorOnBare, assumptions.falseLow, assumptions.brokenLead, otherwiseWrong]
  const left = 1 - rates.reduce((sum, rate) => sum + rate, 0)
  const whole = gain * networkOhm + beside
  const draw = [
    () => whole,
    () => whole + drawPoorContact(random),
    () => (random.uniform() < 0.5 ? beside : lowerThan(random, whole)),
    () => Infinity,
    () => 1 / random.uniform() - 1,
  ][pick(random, [left, ...rates])]
  const ohm = Math.max(0, Math.round(draw() / kit.resolutionOhm) * kit.resolutionOhm)
  return ohm > kit.mostOhm ? null : ohm
}

/** Anything up to what should have been read; of no path at all, like what is wrong otherwise. */
function lowerThan(random: RandomStream, ohm: number): number {
  return ohm === Infinity ? 1 / random.uniform() - 1 : ohm * random.uniform()
}

/** Draws a site, what is bad in it, and a visit with a nulling wherever the plan has one. */
export function drawVisit(plan: Plan, random: RandomStream): DrawnVisit {
  const { kit, lead, pairs, minutes } = plan
  const addedOhm = drawBad(plan, random)
  const { resistance } = solved(plan, drawOhm(plan, random, addedOhm))
  const gain = 1 + kit.gainError * (2 * random.uniform() - 1)
  const ownOhm = leadOhm(lead, 20)
  const offsetOhm: number[] = []
  let driftPerHour = 0
  let nulledAt = 0
  const readings = pairs.map(({ from, to, nulled = false }, k): Read => {
    const minute = 1 + k * minutes
    if (nulled) {
      const { mean, sd } = leadOffsetOhm(ownOhm, true)
      offsetOhm.push(mean + sd * random.normal())
      driftPerHour =
        ownOhm * assumptions.lead.perKelvin * assumptions.lead.driftKelvinPerHour * random.normal()
      nulledAt = minute
    }
    const leadsOhm = offsetOhm[offsetOhm.length - 1] + (driftPerHour * (minute - nulledAt)) / 60
    const ohm = drawReading(random, kit, resistance(from, to), leadsOhm, gain)
    return { from: barName(from), to: barName(to), ohm, nulled, minute }
  })
  return {
    site: withVisit(siteOf(plan), kit, lead, readings),
    addedOhm,
    isVisible: visibleIn(plan, addedOhm),
    offsetOhm,
  }
}
