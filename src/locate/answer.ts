import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type {
  Evidence,
  LocateAnswer,
  NullingAnswer,
  PathKind,
  ReadingAnswer,
  ReadingVerdict,
  SuspectGroup,
} from '../model/answers.ts'
import { narrowedAddedOhm, statesAddedOhm } from './addedOhm.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { sideOfBridge } from '../network/bridgeSides.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { soundContact } from '../reading/contact.ts'
import { gainSd } from '../reading/kitError.ts'
import type { NullingInterval } from '../reading/nulling.ts'
import { evidenceWorkspace, stateReadings, sumStated, type Judgement, type Stated } from './evidence.ts'
import type { JointGroup, SiteState } from './groups.ts'
import type { Observed } from './observations.ts'
import type { Posterior } from './posterior.ts'
import { badJointsOf, joined, stateKey } from './sets/setInputs.ts'
import { setShift } from './sets/setShift.ts'
import { supported } from './trust.ts'

const mostJointsListed = 50

export function pathKind({ network }: PreparedNetwork, a: number, b: number): PathKind {
  if (network.metal.islands.of[a] === network.metal.islands.of[b]) return 'metal'
  return network.electrical.islands.of[a] === network.electrical.islands.of[b] ? 'soilOnly' : 'none'
}

/** Prediction and chance to be spoiled of every reading, averaged over what may be the case. */
export interface Averaged {
  readonly sound: Judgement
  /** Under the likeliest state of the site in which something is bad; the sound array where there is no group. */
  readonly suspected: Judgement
  readonly spoiledProbability: Float64Array
}

/** States per region that the chance of a spoiled reading is averaged over, and states altogether. */
const mostAveraged = 12
const mostAveragedAltogether = 150
const leastAveraged = 0.002

function stateSite({ inputs, measurement }: Posterior, { members, level }: SiteState): Stated {
  const { network, models, levels } = inputs
  const shift = setShift(network, models, level, badJointsOf(inputs, members))
  return stateReadings(levels[level], measurement, shift)
}

/**
 * Regions hardly share a reading: what a state of one makes of the readings is averaged with the others as they are
 * likeliest, and the differences are added up. O(states) sums over contact states.
 */
export function* averageJudgements(posterior: Posterior): Generator<number, Averaged> {
  const { inputs, sets, groups, ranking } = posterior
  const work = evidenceWorkspace(inputs.levels[0].finite.length)
  const judged = new Map<string, Judgement>()
  const judge = (state: SiteState): Judgement => {
    const key = `${state.level}/${stateKey(state.members)}`
    const known = judged.get(key) ?? sumStated(stateSite(posterior, state), work, { quick: false })
    judged.set(key, known)
    return known
  }
  const sound = judge({ members: [], level: ranking.soundLevel })
  const suspectedState = sets.best.members.length > 0 ? sets.best : groups[0]?.state
  const suspected = suspectedState ? judge(suspectedState) : sound
  const best = judge(sets.best)
  const spoiledProbability = best.spoiledProbability.slice()
  const regionOf = new Map(
    sets.regions.flatMap(({ candidates }, r) => candidates.map((k) => [k, r] as const)),
  )
  const wanted = sets.regions.flatMap(({ states }, r) =>
    states
      .slice(0, mostAveraged)
      .filter(({ probability }) => probability > leastAveraged)
      .map((state) => ({ state, r })),
  )
  wanted.sort((x, y) => y.state.probability - x.state.probability)
  for (const [k, { state, r }] of wanted.slice(0, mostAveragedAltogether).entries()) {
    const others = sets.best.members.filter(({ candidate }) => regionOf.get(candidate) !== r)
    const whole = judge({ members: joined(state.members, others), level: state.level })
    for (let p = 0; p < spoiledProbability.length; p++)
      spoiledProbability[p] += state.probability * (whole.spoiledProbability[p] - best.spoiledProbability[p])
    yield k / wanted.length
  }
  return { sound, suspected, spoiledProbability: spoiledProbability.map((p) => Math.min(1, Math.max(0, p))) }
}

/** The readings under one hypothesis, and ln of their density with each of them left out in turn. */
interface WithEachLeftOut {
  readonly all: Judgement
  readonly without: Float64Array
}

/** States of the site with each reading left out in turn, each worked out once. */
export type EvidenceBook = (state: SiteState) => WithEachLeftOut

export function evidenceBook(posterior: Posterior): EvidenceBook {
  const work = evidenceWorkspace(posterior.inputs.levels[0].finite.length)
  const known = new Map<string, WithEachLeftOut>()
  return (state) => {
    const key = `${state.level}/${stateKey(state.members)}`
    const before = known.get(key)
    if (before) return before
    const stated = stateSite(posterior, state)
    const all = sumStated(stated, work, { quick: false })
    const without = Float64Array.from(posterior.measurement.observations, (o, p) =>
      o.a === o.b ? all.logEvidence : sumStated(stated, work, { quick: false, leaveOut: p }).logEvidence,
    )
    const leftOut = { all, without }
    known.set(key, leftOut)
    return leftOut
  }
}

/**
 * What each reading says of a group, in bits: its likelihood given all other readings, with the group's first joint
 * bad against the same state of the site without it.
 */
function evidenceFor(
  { ranking, measurement, models }: Posterior,
  { joints, state, rest }: JointGroup,
  book: EvidenceBook,
): Evidence[] {
  const n = measurement.observations.length
  const [{ candidate }] = joints
  const bad = book(state)
  const without = book({ members: rest, level: rest.length === 0 ? ranking.soundLevel : state.level })
  return measurement.observations.flatMap((o, p): Evidence[] => {
    if (o.a === o.b) return []
    const nats = bad.all.logEvidence - bad.without[p] - (without.all.logEvidence - without.without[p])
    return [
      {
        entry: o.entry,
        bits: nats / Math.LN2,
        share: Math.sqrt(models[state.level].squared[candidate * n + p]),
        readOhm: o.ohm,
        expectedSoundOhm: without.all.predictedOhm[p],
        expectedIfBadOhm: bad.all.predictedOhm[p],
      },
    ]
  })
}

/**
 * A group in the answer. Its evidence is spelt out, and how much the joint has gained is narrowed down, where a book
 * of evidence is given.
 */
export function writeGroup(posterior: Posterior, group: JointGroup, book: EvidenceBook | null): SuspectGroup {
  const { prepared } = posterior
  const { network } = prepared
  const { joints, probability, state } = group
  let open = 0
  let raised = 0
  for (const { openProbability, raisedProbability } of joints) {
    open += openProbability
    raised += raisedProbability
  }
  const { edge } = joints[0]
  const isMetalBridge = network.metal.blocks.isBridge[edge] === 1
  const cutOff = isMetalBridge
    ? sideOfBridge(network.graph, network.adjacency, edge, undefined, network.isMetal).length
    : 0
  return {
    joints: joints.slice(0, mostJointsListed).map((joint) => {
      const address = jointAddressAt(network.index, network.jointOfEdge[joint.edge])
      return {
        joint: writeJointAddress(address),
        kind: network.kinds[network.kind[joint.edge]].id,
        probability: supported(joint.probability),
      }
    }),
    jointCount: joints.length,
    probability: supported(probability),
    openProbability: open + raised > 0 ? open / (open + raised) : 0,
    addedOhm: book ? narrowedAddedOhm(posterior, joints[0], state) : statesAddedOhm(joints[0]),
    evidence: book ? evidenceFor(posterior, group, book) : [],
    cutsOffParts: cutOff,
  }
}

function verdictOf(
  spoiled: number,
  ohm: number,
  expectedOhm: number,
  spreadOhm: number,
  soundOhm: number,
  suspectOhm: number,
  suspectMatters: boolean,
): ReadingVerdict {
  const above = ohm - expectedOhm
  if (spoiled > 0.5) return above > 0 ? 'poorContact' : 'tooLow'
  if (above > 2 * spreadOhm) {
    const explained = suspectMatters && suspectOhm - soundOhm > 0.5 * above
    if (explained) return 'highBySuspect'
    return above > 3 * spreadOhm ? 'highUnexplained' : 'inLine'
  }
  return above < -4 * spreadOhm ? 'tooLow' : 'inLine'
}

/** Without a nulling the lead is in the reading; without a lead, or with one of no ohms, there is nothing to null. */
function isLeadIn(interval: NullingInterval | undefined): boolean {
  return interval !== undefined && interval.entry === null && interval.leadOhm > 0
}

/** A reading that was set aside: what it read, and why nothing is said of it. */
export function uncounted(
  reading: Observed['readings'][number]['reading'],
  setAside: ReadingAnswer['setAside'],
): ReadingAnswer {
  return {
    ...asRead(reading),
    path: 'none',
    expectedOhm: 0,
    spreadOhm: 0,
    networkOhm: 0,
    contactOhm: 0,
    leadOffsetOhm: 0,
    isLeadIn: false,
    expectedWithSuspectOhm: 0,
    poorContactProbability: 0,
    tooLowProbability: 0,
    verdict: 'setAside',
    setAside,
  }
}

function asRead(reading: Observed['readings'][number]['reading']) {
  return {
    entry: reading.id,
    method: reading.method,
    around: reading.around,
    from: reading.from.part,
    to: reading.to.part,
    kit: reading.kit,
    readOhm: reading.result.form === 'ohm' ? reading.result.ohm : null,
    overRange: reading.result.form === 'over',
    repeats: reading.repeats,
  }
}

export function writeReadings(posterior: Posterior, averaged: Averaged): readonly ReadingAnswer[] {
  const { prepared, observed, measurement, models, ranking, offsets, groups } = posterior
  const { observations } = measurement
  const n = observations.length
  const at = new Map(observations.map((o, p) => [o.entry, p]))
  const firstProbability = groups[0]?.probability ?? 0
  const model = models[ranking.soundLevel]
  return observed.readings.map(({ reading, setAside }): ReadingAnswer => {
    const p = at.get(reading.id)
    if (p === undefined || setAside !== null) {
      return uncounted(reading, setAside ?? 'beforeRepair')
    }
    const o = observations[p]
    const offset = o.interval < 0 ? { offsetOhm: 0, sdOhm: 0 } : offsets[o.interval]
    const contactOhm = o.hasContact ? soundContact.meanOhm : 0
    const networkOhm = model.networkOhm[p]
    // leads nulled too far would have it below nothing, which no instrument shows
    const expectedOhm = Math.max(0, networkOhm + contactOhm + offset.offsetOhm)
    const finiteNetwork = Number.isFinite(networkOhm) ? networkOhm : 0
    const spreadOhm = Math.sqrt(
      model.covariance[p * n + p] +
        measurement.ownSdOhm[p] ** 2 +
        offset.sdOhm ** 2 +
        (gainSd(o.kit) * finiteNetwork) ** 2,
    )
    const rise = averaged.suspected.predictedOhm[p] - averaged.sound.predictedOhm[p]
    const expectedWithSuspectOhm = Number.isFinite(rise)
      ? expectedOhm + rise
      : averaged.suspected.predictedOhm[p]
    const spoiled = averaged.spoiledProbability[p]
    const path = pathKind(prepared, o.a, o.b)
    const high = o.ohm === null || o.ohm > expectedOhm
    const isToEarth = o.b === prepared.network.remoteEarth
    const verdict: ReadingVerdict =
      path !== 'metal' && !isToEarth
        ? 'noMetalPath'
        : o.ohm === null
          ? 'overRange'
          : verdictOf(
              spoiled,
              o.ohm,
              expectedOhm,
              spreadOhm,
              averaged.sound.predictedOhm[p],
              averaged.suspected.predictedOhm[p],
              firstProbability > 0.2,
            )
    return {
      ...asRead(reading),
      path,
      expectedOhm,
      spreadOhm,
      networkOhm,
      contactOhm,
      leadOffsetOhm: offset.offsetOhm,
      isLeadIn: isLeadIn(measurement.intervals[o.interval]),
      expectedWithSuspectOhm,
      poorContactProbability: high ? spoiled : 0,
      tooLowProbability: high ? 0 : spoiled,
      verdict,
      setAside: null,
    }
  })
}

export function writeNullings({ measurement, offsets }: Posterior): readonly NullingAnswer[] {
  return measurement.intervals.map((interval, k): NullingAnswer => ({
    entry: interval.entry,
    kit: interval.kit,
    lead: interval.lead,
    readings: measurement.observations.filter((o) => o.interval === k && o.a !== o.b).length,
    leadOhm: interval.leadOhm,
    offsetPriorSdOhm: interval.offsetSdOhm,
    offsetOhm: offsets[k].offsetOhm,
    offsetSdOhm: offsets[k].sdOhm,
  }))
}

export function partText({ network }: PreparedNetwork, node: number): string {
  return node === network.remoteEarth ? 'earth' : writePartAddress(partAddressAt(network.index, node))
}

export type Headline = LocateAnswer['headline']

/** Below this chance of as poor a fit, drawing and readings are said to disagree. */
const leastFit = 0.001

/** A reading that gives fewer bits than this does not speak for a suspect. */
const leastBits = 1.5

/**
 * What the answer says first. A suspect that a single reading speaks for is not called one, however likely the
 * figures make it: one high reading is repeated before anyone says "bad joint".
 */
export function headlineOf(
  counted: number,
  fit: number,
  nothing: number,
  groups: readonly SuspectGroup[],
): Headline {
  if (counted === 0) return 'noReadings'
  if (fit < leastFit) return 'doesNotFit'
  if (nothing >= 0.5) return 'nothingBroken'
  const isSpokenFor = ({ probability, evidence }: SuspectGroup) =>
    probability >= 0.5 && evidence.filter(({ bits }) => bits > leastBits).length > 1
  return groups.some(isSpokenFor) ? 'suspects' : 'undecided'
}
