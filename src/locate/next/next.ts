import { portion, staged } from '../../base/portion.ts'
import { jointAddressAt } from '../../layout/jointIndex.ts'
import { partAddressAt } from '../../layout/partIndex.ts'
import { writeJointAddress, writePartAddress } from '../../model/address.ts'
import type { NextAction, NextAnswer } from '../../model/answers.ts'
import type { Site } from '../../model/schema/site.ts'
import type { Network } from '../../network/compile.ts'
import type { PreparedNetwork } from '../../network/prepare.ts'
import { leadCheckMin, readingMin } from '../../walk/effort.ts'
import { straightM, wayM } from '../../walk/reach.ts'
import { basisOf } from '../locate.ts'
import type { JointGroup } from '../groups.ts'
import { emptyLocateCache, type LocateCache } from '../locateCache.ts'
import { isBetweenParts } from '../observations.ts'
import { posteriorOf, type LocateProgress, type Posterior } from '../posterior.ts'
import { supported } from '../trust.ts'
import { candidateParts } from './candidateParts.ts'
import { clipsOf, poorRateAgain, poorRateBetween, type Clips } from './clips.ts'
import { heaviestHypotheses, type Hypotheses } from './hypotheses.ts'
import { entropyNats, informationNats } from './information.ts'
import { lastSetUp } from './lastSetUp.ts'
import { looksAt, type Look } from './looks.ts'
import { expectedOhm, outcomesOfLook, outcomesOfReading, type ClassNames } from './outcomes.ts'
import { foresee, tabulate, type Foreseen, type OutcomeTable } from './outcomeTable.ts'
import {
  foresight,
  openNewPairs,
  predictPairs,
  predictRepeat,
  predictShortLeads,
  showingOf,
  showingOfLeads,
  type Foresight,
} from './predict.ts'
import { recordedLooks, type RecordedLooks } from './recordedLooks.ts'
import { screenPairs, type ScreenedPair, type Screening } from './screenPairs.ts'
import type { Predictive, Showing } from './shown.ts'
import { foundFrom, heldFrom, heldProbability } from './stopRule.ts'

const mostActions = 8
/** Less than this is not worth the time. */
export const leastBitsPerMinute = 0.02
/** Pairs that are worked out in full; on large networks, where each of them takes a solve that is felt, fewer. */
const mostPairs = 24
const mostPairsOnLarge = 12
const largeFrom = 200_000
const mostRepeats = 6
/** With less than this a group is nothing to go on. */
const leastOpen = 0.001
/** With less than this a group is not seen to before a reading was found to be worth taking. */
const suspectedFrom = 0.5

/** A reading that may be taken, with what it would say. */
interface Weighed {
  readonly action: Pick<NextAction, 'kind' | 'minutes' | 'from' | 'to' | 'entry' | 'kit' | 'lead'>
  readonly nats: number
  readonly foreseen: Foreseen
  readonly table: OutcomeTable
}

/**
 * What to do next, best first by expected information about which joint is bad, if any, in bits per minute: a
 * pair within reach of the lead, a repeat with fresh contacts, a check of the leads, a look or a torque check.
 *
 * 1. the readings are ranked as `locate` does; nothing bad and the states of all joints are the hypotheses,
 *    conditioned on the readings each by itself;
 * 2. pairs about the suspects are screened, the best predicted in full under every hypothesis;
 * 3. information of each action about the joint, outcomes with what would be thought then, minutes;
 * 4. a stop rule says when to leave off.
 *
 * Deterministic. A cache that is passed in spares what `locate` has worked out; the answer is the same without.
 */
export function* nextActions(
  site: Site,
  prepared: PreparedNetwork,
  cache: LocateCache = emptyLocateCache(),
): Generator<LocateProgress, NextAnswer> {
  const posterior = yield* posteriorOf(site, prepared, cache)
  if (!posterior?.measurement.observations.some(isBetweenParts)) {
    const none = { actions: [], entropyBits: 0, considered: 0, leftOutPairs: 0 }
    return { basis: basisOf(site), stop: 'noReadings', ...none }
  }
  const { groups } = posterior
  const recorded = recordedLooks(site, prepared.network)
  const focus = focusOf(posterior, recorded)
  const hypotheses = heaviestHypotheses(posterior, focus.region)
  const setUp = lastSetUp(site, posterior)
  const clips = clipsOf(
    site.drawing,
    posterior.observed.readings.flatMap(({ reading, setAside }) => (setAside === null ? [reading] : [])),
  )
  const known = yield* staged('explain', foresight(posterior, hypotheses, setUp, cache))
  const screened = yield* staged('explain', screen(known, clips))
  const weighed = yield* staged('explain', weighReadings(known, clips, screened.pairs, cache))
  const looks = looksAt(posterior, hypotheses, setUp, recorded)
  const first = focus.group < 0 ? 0 : supported(groups[focus.group].probability)
  const isHeld =
    first >= foundFrom && (yield* staged('explain', heldProbability(posterior, focus.group))) >= heldFrom
  const names = classNames(posterior, hypotheses)
  const ranked = yield* staged('explain', rankActions(posterior, names, weighed, looks))
  const isFound = isHeld && (groups[focus.group].joints.length === 1 || !splitsFirst(ranked))
  const isToBeSeen = isFound || (ranked.length === 0 && first >= suspectedFrom)
  return {
    basis: basisOf(site),
    stop:
      isFound || (ranked.length === 0 && focus.hasSettled)
        ? 'foundIt'
        : ranked.length > 0
          ? 'goOn'
          : 'nothingWorthIt',
    actions: isToBeSeen ? looksAtFirst(posterior, names, looks, focus.group) : ranked,
    entropyBits: entropyBitsOf(hypotheses),
    considered: screened.considered,
    leftOutPairs: screened.leftOut,
  }
}

/** What the advice is about: the first group that is not settled, and the region it is in. */
interface Focus {
  readonly group: number
  readonly region: number
  /** Some group was found and seen to already. */
  readonly hasSettled: boolean
}

/** A group that is as good as certain and was seen to is for the repair; the next one is undecided. */
function focusOf({ groups }: Posterior, recorded: RecordedLooks): Focus {
  const isSettled = ({ probability, joints }: JointGroup) =>
    supported(probability) >= foundFrom && joints.every(({ edge }) => recorded.retorque.has(edge))
  const open = groups.findIndex((group) => !isSettled(group) && group.probability >= leastOpen)
  const group = open >= 0 ? open : groups.length > 0 ? 0 : -1
  return { group, region: group < 0 ? 0 : groups[group].region, hasSettled: groups.some(isSettled) }
}

function classNames(
  { prepared: { network }, groups }: Posterior,
  { all, groupClassOf, groupClasses }: Hypotheses,
): ClassNames {
  const inGroup = groups.map(({ joints }) => new Set(joints.map(({ edge }) => edge)))
  const edgeOf = new Map(
    all.map(({ classOf, edges }) => {
      const own = inGroup[groupClassOf[classOf] - 1] as ReadonlySet<number> | undefined
      return [classOf, edges.find((edge) => own?.has(edge)) ?? edges[0] ?? -1] as const
    }),
  )
  return {
    groupClassOf,
    groupClasses,
    jointOf: (classOf) => addressOfJoint(network, edgeOf.get(classOf) ?? -1),
  }
}

function addressOfJoint({ index, jointOfEdge }: Network, edge: number): string {
  return writeJointAddress(jointAddressAt(index, jointOfEdge[edge]))
}

/** The bad joint is in the first group, and a reading says more per minute about which it is than looking does. */
function splitsFirst(ranked: readonly NextAction[]): boolean {
  return ranked.length > 0 && ranked[0].joint === undefined
}

function entropyBitsOf({ all, classes }: Hypotheses): number {
  const weights = new Float64Array(classes)
  for (const { classOf, weight } of all) weights[classOf] += weight
  return entropyNats(weights) / Math.LN2
}

function* screen({ posterior, hypotheses, setUp }: Foresight, clips: Clips): Generator<number, Screening> {
  const { prepared, measurement } = posterior
  const { network } = prepared
  const key = (a: number, b: number) => `${Math.min(a, b)} ${Math.max(a, b)}`
  const taken = new Set(
    measurement.observations.filter(({ kit }) => kit.id === setUp.kit.id).map(({ a, b }) => key(a, b)),
  )
  const weightOf = new Map<number, number>()
  for (const { edges, weight } of hypotheses.all)
    for (const edge of edges) weightOf.set(edge, (weightOf.get(edge) ?? 0) + weight)
  const suspects = [...weightOf]
    .map(([edge, weight]) => ({ edge, weight }))
    .sort((a, b) => b.weight - a.weight || a.edge - b.edge)
  const parts = candidateParts(network, clips, setUp, suspects)
  const most = network.edgeCount > largeFrom ? mostPairsOnLarge : mostPairs
  const { edge } = posterior.candidates
  return yield* screenPairs(prepared, edge, hypotheses, setUp, parts, (a, b) => taken.has(key(a, b)), most)
}

function weigh(
  classes: number,
  action: Weighed['action'],
  predictives: readonly Predictive[],
  showing: Showing,
): Weighed {
  const foreseen = foresee(classes, predictives, showing)
  const table = tabulate(foreseen)
  return { action, foreseen, table, nats: informationNats(table.joint, classes, table.cells) }
}

/** Information of every screened pair, of the repeats that may be in doubt, and of the leads shorted. */
function* weighReadings(
  known: Foresight,
  clips: Clips,
  pairs: readonly ScreenedPair[],
  cache: LocateCache,
): Generator<number, readonly Weighed[]> {
  const { posterior, hypotheses, setUp } = known
  const { index } = posterior.prepared.network
  const { classes } = hypotheses
  const { kit, reading } = setUp
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  const weighed: Weighed[] = []
  const ends = pairs.map(({ from, to }) => ({ a: from, b: to }))
  const opened = yield* portion(openNewPairs(known, cache, ends), 0, 0.5)
  const predicted = yield* portion(predictPairs(known, opened), 0.5, 0.2)
  for (const [k, { from, to, minutes }] of pairs.entries()) {
    const predictives = predicted[k]
    yield 0.7 + (0.2 * k) / pairs.length
    if (!predictives) continue
    const named = { from: address(from), to: address(to) }
    const showing = showingOf(setUp, poorRateBetween(clips, reading, named.from, named.to))
    weighed.push(
      weigh(
        classes,
        { kind: 'pair', minutes, ...named, kit: kit.id, lead: reading.lead },
        predictives,
        showing,
      ),
    )
  }
  for (const p of repeatsInDoubt(known)) {
    weighed.push(weighRepeat(known, p))
    yield 0.9
  }
  if (setUp.interval >= 0) {
    const way = straightM(index, setUp.standing, setUp.reference)
    weighed.push(
      weigh(
        classes,
        { kind: 'shortLeads', minutes: leadCheckMin(way), kit: kit.id, lead: reading.lead },
        predictShortLeads(known),
        showingOfLeads(setUp),
      ),
    )
  }
  return weighed
}

/** Readings with this instrument whose state differs most from class to class, each pair's latest only. */
function repeatsInDoubt({ posterior, conditioned, setUp }: Foresight): readonly number[] {
  const { observations } = posterior.measurement
  const latest = new Map<string, number>()
  observations.forEach((o, p) => {
    if (isBetweenParts(o) && o.kit.id === setUp.kit.id && o.hasContact === setUp.hasContact) {
      latest.set(`${Math.min(o.a, o.b)} ${Math.max(o.a, o.b)}`, p)
    }
  })
  return [...latest.values()]
    .map((p) => {
      let mean = 0
      let square = 0
      for (const { hypothesis, spoiledProbability } of conditioned) {
        mean += hypothesis.weight * spoiledProbability[p]
        square += hypothesis.weight * spoiledProbability[p] ** 2
      }
      return { p, variance: square - mean * mean }
    })
    .filter(({ variance }) => variance > 1e-4)
    .sort((x, y) => y.variance - x.variance || x.p - y.p)
    .slice(0, mostRepeats)
    .map(({ p }) => p)
}

function weighRepeat(known: Foresight, p: number): Weighed {
  const { posterior, hypotheses, setUp } = known
  const { index } = posterior.prepared.network
  const { entry, a, b } = posterior.measurement.observations[p]
  const found = posterior.observed.readings.find(({ reading }) => reading.id === entry)
  const reading = found?.reading ?? setUp.reading
  const movesReference = a !== setUp.reference
  const way = wayM(index, movesReference ? [setUp.standing, a, b] : [setUp.standing, b])
  const action: Weighed['action'] = {
    kind: 'repeat',
    minutes: readingMin({ wayM: way, movesReference, changesLead: false }),
    entry,
    from: reading.from.part,
    to: reading.to.part,
    kit: setUp.kit.id,
    lead: setUp.reading.lead,
  }
  const showing = showingOf(setUp, poorRateAgain(reading))
  return weigh(hypotheses.classes, action, predictRepeat(known, p), showing)
}

function writeReadingAction(names: ClassNames, { action, nats, foreseen, table }: Weighed): NextAction {
  return {
    ...action,
    bits: nats / Math.LN2,
    expectedOhm: expectedOhm(table),
    outcomes: outcomesOfReading(names, foreseen, table),
  }
}

function writeLook({ prepared: { network } }: Posterior, names: ClassNames, look: Look): NextAction {
  const joints = look.edges.map((edge) => addressOfJoint(network, edge))
  return {
    kind: look.kind,
    minutes: look.minutes,
    bits: look.nats / Math.LN2,
    joint: joints[0],
    ...(joints.length > 1 && { joints }),
    group: look.group,
    outcomes: outcomesOfLook(names, look.bad, look.sound),
  }
}

/** What can be done, by information per minute; of looks at one group the best only. */
function* rankActions(
  posterior: Posterior,
  names: ClassNames,
  weighed: readonly Weighed[],
  looks: readonly Look[],
): Generator<number, readonly NextAction[]> {
  const perMinute = ({ nats, minutes }: { readonly nats: number; readonly minutes: number }) =>
    nats / Math.LN2 / minutes
  const bestLook = (group: number) =>
    looks
      .filter((look) => look.group === group)
      .reduce<Look | null>((best, look) => (!best || perMinute(look) > perMinute(best) ? look : best), null)
  const lookChoices = [...new Set(looks.map(({ group }) => group))].flatMap((group) => bestLook(group) ?? [])
  const choices = [
    ...weighed.map((one) => ({
      value: perMinute({ nats: one.nats, minutes: one.action.minutes }),
      write: () => writeReadingAction(names, one),
    })),
    ...lookChoices.map((look) => ({
      value: perMinute(look),
      write: () => writeLook(posterior, names, look),
    })),
  ]
  const best = choices
    .filter(({ value }) => value > leastBitsPerMinute)
    .sort((a, b) => b.value - a.value)
    .slice(0, mostActions)
  const actions: NextAction[] = []
  for (const { write } of best) {
    actions.push(write())
    yield actions.length / best.length
  }
  return actions
}

/** No reading is worth more than seeing to the first group: a look at it, then its torque. */
function looksAtFirst(
  posterior: Posterior,
  names: ClassNames,
  looks: readonly Look[],
  first: number,
): readonly NextAction[] {
  const atFirst = looks.filter(({ group }) => group === first)
  const most = Math.max(...atFirst.map(({ edges }) => edges.length), 0)
  return atFirst.filter(({ edges }) => edges.length === most).map((look) => writeLook(posterior, names, look))
}
