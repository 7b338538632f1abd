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
import {
  evidenceWorkspace,
  judge,
  stateReadings,
  sumStated,
  type EvidenceWorkspace,
  type Judgement,
  type Measurement,
  type Stated,
} from './evidence.ts'
import { likeliestState, type JointGroup } from './groups.ts'
import { badJointShift, soundShift } from './hypothesis.ts'
import type { Candidates, LevelModel } from './levels.ts'
import type { Observed } from './observations.ts'
import type { OffsetEstimate } from './offsets.ts'
import type { Ranking } from './rank.ts'

/** Everything the parts of the answer are written from. */
export interface Findings {
  readonly prepared: PreparedNetwork
  readonly observed: Observed
  readonly measurement: Measurement
  readonly models: readonly LevelModel[]
  readonly candidates: Candidates
  readonly ranking: Ranking
  readonly groups: readonly JointGroup[]
  readonly offsets: readonly OffsetEstimate[]
}

const mostJointsListed = 50

export function pathKind({ network }: PreparedNetwork, a: number, b: number): PathKind {
  if (network.metal.islands.of[a] === network.metal.islands.of[b]) return 'metal'
  return network.electrical.islands.of[a] === network.electrical.islands.of[b] ? 'soilOnly' : 'none'
}

/** Prediction and chance to be spoiled of every reading, averaged over what may be the case. */
export interface Averaged {
  readonly sound: Judgement
  /** Under the likeliest failure of the first group; the sound array where there is no group. */
  readonly first: Judgement
  readonly spoiledProbability: Float64Array
}

/** Hypotheses that the chance of a spoiled reading is averaged over, besides the sound array. */
const mostAveraged = 12

export function averageJudgements({ ranking, measurement, models, groups }: Findings): Averaged {
  const n = measurement.observations.length
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const { soundLevel } = ranking
  const quiet = soundShift(models, soundLevel, n)
  const sound = judge(ranking.levels[soundLevel], measurement, quiet, work, { quick: false })
  let first = sound
  const total = new Float64Array(n)
  let weights = 0
  const add = (judged: Judgement, logWeight: number) => {
    const weight = Math.exp(logWeight - ranking.logTotal)
    weights += weight
    for (let p = 0; p < n; p++) total[p] += weight * judged.spoiledProbability[p]
  }
  add(sound, ranking.soundLogWeight)
  for (const joint of ranking.joints.slice(0, mostAveraged)) {
    const { severity, level } = likeliestState(joint)
    const shift = badJointShift(models, level, joint.candidate, severity.addedOhm, n)
    const judged = judge(ranking.levels[level], measurement, shift, work, { quick: false })
    if (joint === groups[0]?.joints[0]) first = judged
    add(judged, joint.logWeight)
  }
  return { sound, first, spoiledProbability: total.map((x) => x / weights) }
}

/** The readings under one hypothesis, and ln of their density with each of them left out in turn. */
interface WithEachLeftOut {
  readonly all: Judgement
  readonly without: Float64Array
}

/** One statement of the readings, and a sum over contact states for each that is left out. */
function leaveEachOut(stated: Stated, work: EvidenceWorkspace): WithEachLeftOut {
  const all = sumStated(stated, work, { quick: false })
  const without = Float64Array.from(stated.measurement.observations, (o, p) =>
    o.a === o.b ? all.logEvidence : sumStated(stated, work, { quick: false, leaveOut: p }).logEvidence,
  )
  return { all, without }
}

/** The readings of a sound array with each of them left out: what the evidence for every group is held against. */
export function soundLeaveOuts({ ranking, measurement, models }: Findings): WithEachLeftOut {
  const n = measurement.observations.length
  const { levels, soundLevel } = ranking
  const stated = stateReadings(levels[soundLevel], measurement, soundShift(models, soundLevel, n))
  return leaveEachOut(stated, evidenceWorkspace(levels[0].finite.length))
}

/** What each reading says of a group, in bits: its likelihood given all other readings, bad against sound. */
function evidenceFor(
  { ranking, measurement, models }: Findings,
  group: JointGroup,
  sound: WithEachLeftOut,
): Evidence[] {
  const n = measurement.observations.length
  const [joint] = group.joints
  const { severity, level } = likeliestState(joint)
  const shift = badJointShift(models, level, joint.candidate, severity.addedOhm, n)
  const stated = stateReadings(ranking.levels[level], measurement, shift)
  const bad = leaveEachOut(stated, evidenceWorkspace(ranking.levels[0].finite.length))
  return measurement.observations.flatMap((o, p): Evidence[] => {
    if (o.a === o.b) return []
    const nats = bad.all.logEvidence - bad.without[p] - (sound.all.logEvidence - sound.without[p])
    return [
      {
        entry: o.entry,
        bits: nats / Math.LN2,
        share: Math.sqrt(models[level].squared[joint.candidate * n + p]),
        readOhm: o.ohm,
        expectedSoundOhm: sound.all.predictedOhm[p],
        expectedIfBadOhm: bad.all.predictedOhm[p],
      },
    ]
  })
}

/**
 * A group in the answer. Its evidence is spelt out, and how much the joint has gained is narrowed down, where the
 * sound readings to hold it against are given.
 */
export function writeGroup(
  findings: Findings,
  group: JointGroup,
  sound: WithEachLeftOut | null,
): SuspectGroup {
  const { ranking, prepared } = findings
  const { network } = prepared
  const weightOf = (log: number) => Math.exp(log - ranking.logTotal)
  let open = 0
  let raised = 0
  for (const joint of group.joints) {
    for (const { severity, logWeight } of joint.states) {
      if (severity.addedOhm === Infinity) open += weightOf(logWeight)
      else raised += weightOf(logWeight)
    }
  }
  const probability = weightOf(group.logWeight)
  const edge = group.joints[0].edge
  const isMetalBridge = network.metal.blocks.isBridge[edge] === 1
  const cutOff = isMetalBridge
    ? sideOfBridge(network.graph, network.adjacency, edge, undefined, network.isMetal).length
    : 0
  return {
    joints: group.joints.slice(0, mostJointsListed).map((joint) => {
      const address = jointAddressAt(network.index, network.jointOfEdge[joint.edge])
      return {
        joint: writeJointAddress(address),
        kind: network.kinds[network.kind[joint.edge]].id,
        probability: weightOf(joint.logWeight),
      }
    }),
    jointCount: group.joints.length,
    probability,
    openProbability: open + raised > 0 ? open / (open + raised) : 0,
    addedOhm: sound ? narrowedAddedOhm(findings, group.joints[0]) : statesAddedOhm(group.joints[0]),
    evidence: sound ? evidenceFor(findings, group, sound) : [],
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
    from: reading.from.part,
    to: reading.to.part,
    kit: reading.kit,
    readOhm: reading.result.form === 'ohm' ? reading.result.ohm : null,
    overRange: reading.result.form === 'over',
    repeats: reading.repeats,
  }
}

export function writeReadings(findings: Findings, averaged: Averaged): readonly ReadingAnswer[] {
  const { prepared, observed, measurement, models, ranking, offsets } = findings
  const { observations } = measurement
  const n = observations.length
  const at = new Map(observations.map((o, p) => [o.entry, p]))
  const firstProbability =
    findings.groups.length > 0 ? Math.exp(findings.groups[0].logWeight - ranking.logTotal) : 0
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
    const rise = averaged.first.predictedOhm[p] - averaged.sound.predictedOhm[p]
    const expectedWithSuspectOhm = Number.isFinite(rise) ? expectedOhm + rise : averaged.first.predictedOhm[p]
    const spoiled = averaged.spoiledProbability[p]
    const path = pathKind(prepared, o.a, o.b)
    const high = o.ohm === null || o.ohm > expectedOhm
    const verdict: ReadingVerdict =
      path !== 'metal'
        ? 'noMetalPath'
        : o.ohm === null
          ? 'overRange'
          : verdictOf(
              spoiled,
              o.ohm,
              expectedOhm,
              spreadOhm,
              averaged.sound.predictedOhm[p],
              averaged.first.predictedOhm[p],
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
      expectedWithSuspectOhm,
      poorContactProbability: high ? spoiled : 0,
      tooLowProbability: high ? 0 : spoiled,
      verdict,
      setAside: null,
    }
  })
}

export function writeNullings({ measurement, offsets }: Findings): readonly NullingAnswer[] {
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
  first: SuspectGroup | undefined,
): Headline {
  if (counted === 0) return 'noReadings'
  if (fit < leastFit) return 'doesNotFit'
  if (nothing >= 0.5) return 'nothingBroken'
  const speaking = first?.evidence.filter(({ bits }) => bits > leastBits).length ?? 0
  return first !== undefined && first.probability >= 0.5 && speaking > 1 ? 'suspects' : 'undecided'
}
