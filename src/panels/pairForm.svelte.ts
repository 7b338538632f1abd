import {
  asksForChecks,
  electrodeVerdict,
  firstVerdict,
  loopExpectation,
  type Expectation,
  type FirstVerdict,
} from '../compare/firstVerdict.ts'
import type { ExpectAnswer, JointAnswer, ReadingAnswer } from '../model/answers.ts'
import { planOf } from '../model/queries/planWalk.ts'
import type { AppState } from '../state/appState.ts'
import { leadCheckNow, nulledNow, voltsNow, writtenReading } from '../state/entries.ts'
import { asFound } from '../state/results.svelte.ts'
import { mostVoltsOf, voltsSetUpOf, voltsStanding, type VoltsStanding } from '../state/voltsCheck.ts'
import { describeReserve } from '../text/criteriaText.ts'
import { describeEntered, entryTexts } from '../text/entryText.ts'
import { openNameBook, type NameBook } from '../text/places.ts'
import { describeProblem } from '../text/problems.ts'
import { describeReading } from '../text/readingText.ts'
import { namePart } from '../text/partNames.ts'
import { describeTooHigh, describeVoltsAsk, voltsTexts } from '../text/visitText.ts'
import { describeHeld } from '../text/walkText.ts'
import type { VoltsReading } from '../text/volts.ts'
import { Asking } from './asking.svelte.ts'
import { usualClip } from './clipDefaults.ts'
import { measuringSetup, type MeasuringSetup } from './measuringSetup.ts'
import type { EntryOf, OhmOrOver, Spot } from '../model/schema/record.ts'
import type { Clip, PairDraft, TypedUnit } from './pairDraft.svelte.ts'
import { moreOfReading, plannedPair, singleEnds } from './reading/moreOfReading.ts'
import { withLeadIn } from './reading/withLeadIn.ts'
import { peersOf } from './reading/peersOf.ts'
import { otherUnit } from './reading/otherUnit.ts'
import { heldPair, type Held } from './reading/walking.ts'
import { readingRows, type ReadingRow } from '../state/readingRows.ts'
import { readTypedOhms } from './typedOhms.ts'
import { visitToWriteIn } from './visitToWriteIn.ts'

const noVerdicts = { locate: new Map(), judge: new Map() }

/** What was last entered: told at once, and again once the ranking has it. */
export interface Told {
  readonly sentence: string
  /** Null until it is ranked. */
  readonly verdict: ReadingAnswer['verdict'] | null
  /** The reading as the list has it; null where it is gone. */
  readonly row: ReadingRow | null
  /** What was said at once; null where nothing was expected of it yet. */
  readonly first: { readonly verdict: FirstVerdict; readonly expectedOhm: number | null } | null
}

/**
 * How the leads stand: `none` are used, `held` since their nulling, `old` is the nulling, `asked` whether there was one
 * before the first reading of a visit, `not` nulled and known to be so.
 */
export type NullingState = 'none' | 'held' | 'old' | 'asked' | 'not'

/** The form in which a pair is measured: what is expected of it, and the one way a reading is written. */
export class PairForm {
  readonly #app: AppState
  readonly #draft: PairDraft
  readonly #expectation: Asking<ExpectAnswer>
  readonly #loop: Asking<JointAnswer>
  #trouble = $state<string | null>(null)
  #entered = $state<string | null>(null)
  #first = $state.raw<Told['first']>(null)
  /** What was typed is entered once it is said whether the leads are nulled. */
  #waitsForNulling = $state(false)
  #now = $state('')
  /** An entry of the record leaves the drawing as it is, and all that is made of its names. */
  readonly #drawing = $derived.by(() => this.#app.session.site?.drawing ?? null)
  readonly #book = $derived(this.#drawing && openNameBook(this.#drawing))
  readonly #setup = $derived.by((): MeasuringSetup | null => {
    const { site } = this.#app.session
    return site ? measuringSetup(site, this.#draft, this.#now, this.#app.usual) : null
  })

  readonly #held = $derived.by((): Held | null => {
    const { pairFrom: from, pairTo } = this.#app.selection
    const to = this.method === 'earthElectrode' ? 'earth' : pairTo
    if (from === null || to === null || this.method === 'loopClamp') return null
    return heldPair(this.#app, this.#draft, from, to)
  })

  /** Make it while a component is being made. */
  constructor(app: AppState, draft: PairDraft) {
    this.#app = app
    this.#draft = draft
    this.#now = app.identity.now()
    this.#expectation = new Asking(() => this.#ask())
    this.#loop = new Asking(() => this.#askLoop())
  }

  get book(): NameBook | null {
    return this.#book
  }

  get setup(): MeasuringSetup | null {
    return this.#setup
  }

  /** The time that the age of a nulling is counted to. */
  get now(): string {
    return this.#now
  }

  /** Time has gone on. */
  lookAtClock(): void {
    this.#now = this.#app.identity.now()
  }

  get nullingState(): NullingState {
    const { setup } = this
    if (!setup?.kit || !setup.lead) return 'none'
    if (setup.nulling) return setup.isNullingOld ? 'old' : 'held'
    return setup.readings === 0 && this.#draft.leftUnnulled !== setKey(setup) ? 'asked' : 'not'
  }

  /** An entry waits until it is said whether the leads are nulled. */
  get waitsForNulling(): boolean {
    return this.#waitsForNulling
  }

  /** What a bare number is in: instruments show a bond in milliohms where a sound one has less than an ohm. */
  unit(hasKeys: boolean): TypedUnit {
    if (!hasKeys) return this.#draft.unitOr('Ω')
    const { expected } = this
    return this.#draft.unitOr(expected && !(expected.expectedOhm < 1) ? 'Ω' : 'mΩ')
  }

  /** What was typed as it will stand in the record; null where it cannot be read. */
  typed(hasKeys: boolean): OhmOrOver | null {
    const { ohms, isOver } = this.#draft
    const kit = this.setup?.kit
    if (!kit) return null
    const read = readTypedOhms(ohms, isOver, kit, this.unit(hasKeys))
    return read.ok ? read.value : null
  }

  /** The other unit, where the number is about what is expected in that one alone; null where there is nothing to ask. */
  otherUnit(hasKeys: boolean): TypedUnit | null {
    const { expected } = this
    if (this.#draft.isOver || !this.isPair || expected?.path !== 'metal') return null
    return otherUnit(this.#draft.ohms, this.unit(hasKeys), expected)
  }

  /**
   * How volts stand where the pair begins, or at the electrode; null before it has a beginning. A loop clamp couples
   * through its core and is clipped to nothing: it asks for none.
   */
  get volts(): VoltsStanding | null {
    const { site } = this.#app.session
    const from = this.#app.selection.pairFrom
    if (!site || from === null || !this.setup || this.method === 'loopClamp') return null
    return voltsStanding(site, this.setup.visit, from, this.#now, this.isPair ? 'pair' : 'electrode')
  }

  /** Why no ohms can be entered for the pair or the electrode as it is; null where they can. */
  get lock(): string | null {
    const { volts } = this
    const { site } = this.#app.session
    if (!site || !volts || volts.state === 'held' || !this.#book) return null
    const { earth } = this.#book.words
    if (volts.state === 'asked' || volts.check === null) return describeVoltsAsk(volts.why, earth)
    return describeTooHigh(
      volts.check,
      site.drawing.facts.mostVolts,
      namePart(this.#book, volts.check.from),
      earth,
      voltsSetUpOf(volts.check) === 'electrode',
    )
  }

  /** The hold point of a plan that the pair waits for, however it was begun; null where it waits for none. */
  get held(): Held | null {
    return this.#held
  }

  /** Writes the volts that were read at this set-up; false where that cannot be. */
  enterVolts(read: VoltsReading): boolean {
    const { session, selection, identity, announcer } = this.#app
    this.lookAtClock()
    const { pairFrom: from, pairTo } = selection
    const to = this.isPair ? pairTo : 'earth'
    const { setup } = this
    if (from === null || to === null || !setup) return false
    const visit = visitToWriteIn(session, identity, setup, this.#app.usual.party)
    const { site } = session
    if (!site || !visit.ok) {
      announcer.say(visit.ok ? entryTexts.noSite : describeProblem(visit.error))
      return false
    }
    const entry = voltsNow(site, identity, visit.value, { from, to }, read)
    const problem = session.append(entry)
    this.forgive()
    if (problem) announcer.say(describeProblem(problem))
    else
      announcer.say(mostVoltsOf(entry) > site.drawing.facts.mostVolts ? voltsTexts.high : voltsTexts.entered)
    return problem === null
  }

  /** Why the reading could not be written, until something is typed. */
  get trouble(): string | null {
    return this.#trouble
  }

  get fromClip(): Clip | null {
    return this.#clipAt(this.#app.selection.pairFrom, this.#draft.fromClip)
  }

  get toClip(): Clip | null {
    return this.#clipAt(this.#app.selection.pairTo, this.#draft.toClip)
  }

  get hasBothEnds(): boolean {
    const { pairFrom, pairTo } = this.#app.selection
    return pairFrom !== null && pairTo !== null
  }

  /** How the instrument in use reads. */
  get method(): EntryOf<'reading'>['method'] {
    return this.setup?.kit?.method ?? 'twoWire'
  }

  /** Whether two parts are read against each other, and not a loop or an electrode. */
  get isPair(): boolean {
    return this.method === 'twoWire' || this.method === 'fourWire'
  }

  /** Whether it is said where is read, so that a value can follow. */
  get isPlaced(): boolean {
    if (this.method === 'loopClamp') return this.#draft.extras.around !== null
    return this.isPair ? this.hasBothEnds : this.#app.selection.pairFrom !== null
  }

  /** The joint in the jaws, once it is looked up. */
  get loop(): JointAnswer | null {
    const { answer } = this.#loop
    return answer && answer.joint === this.#draft.extras.around ? answer : null
  }

  /** What the value will be held against at once; null where it is not known yet, or nothing is expected. */
  get #expectationNow(): Expectation | null {
    const kit = this.setup?.kit
    const { expected, loop } = this
    if (kit && this.method === 'loopClamp') {
      return loop?.counted ? loopExpectation(loop.counted.loopClampOhm, loop.counted.isEarthPath, kit) : null
    }
    return this.isPair && expected ? { ...expected, ...expected.criterion } : null
  }

  /** What a sound array reads for the pair as it is now; null until it is known. */
  get expected(): ExpectAnswer | null {
    const { answer } = this.#expectation
    const { pairFrom, pairTo } = this.#app.selection
    return answer && answer.from === pairFrom && answer.to === pairTo ? answer : null
  }

  /** Of the last reading entered here, until the next pair has both its ends. */
  get told(): Told | null {
    const entered = this.#entered
    const { locate } = this.#app.results
    const first = this.#first
    if (entered === null || this.#isGoneOn) return null
    const row = this.#rowOf(entered)
    const index = locate?.readings.findIndex(({ entry }) => entry === entered) ?? -1
    if (!locate || !this.#book || index < 0)
      return { sentence: describeEntered(row?.number ?? null), verdict: null, row, first }
    const { verdict } = locate.readings[index]
    const judged = this.#app.results.judge?.readings.find((candidate) => candidate.entry === entered)
    const reserve = judged && describeReserve(judged, this.#book.drawing.criteria)
    const sentence = describeReading(locate, index, this.#book)
    return { sentence: reserve ? `${sentence} ${reserve}` : sentence, verdict, row, first }
  }

  /** The next reading has been begun, so that nothing more is told of the last. In a walk that is its value. */
  get #isGoneOn(): boolean {
    const { ohms, isOver, extras } = this.#draft
    return this.hasBothEnds && (extras.plan === null || ohms !== '' || isOver)
  }

  /** The reading that is led through the checks; null where none is. */
  get checking(): string | null {
    return this.#draft.extras.checking
  }

  /** Whether what was last entered no longer stands out. */
  get isCleared(): boolean {
    return this.#first !== null && !asksForChecks(this.#first.verdict)
  }

  /** The number of a reading in all sentences; null where it is none of this site. */
  numberOf(entry: string): number | null {
    return this.#rowOf(entry)?.number ?? null
  }

  #rowOf(entry: string): ReadingRow | null {
    const { site } = this.#app.session
    return (site && readingRows(site, noVerdicts).find(({ reading }) => reading.id === entry)) ?? null
  }

  /** Something was typed: what was wrong before is being mended. */
  forgive(): void {
    this.#trouble = null
    this.#waitsForNulling = false
  }

  /** Writes the reading; false where it cannot be written, and then everything stays as typed. */
  enter(hasKeys = false): boolean {
    this.lookAtClock()
    this.#waitsForNulling = false
    this.#trouble = this.#write(this.unit(hasKeys))
    return this.#trouble === null
  }

  /** The leads have just been nulled. True where a reading that waited for it can be entered now. */
  nullNow(): boolean {
    const { session, identity, announcer } = this.#app
    this.lookAtClock()
    const { setup } = this
    if (!setup?.kit || !setup.lead) return false
    const visit = visitToWriteIn(session, identity, setup, this.#app.usual.party)
    const { site } = session
    const problem = !visit.ok
      ? visit.error
      : site && session.append(nulledNow(site, identity, visit.value, setup.kit.id, setup.lead.id))
    announcer.say(problem ? describeProblem(problem) : entryTexts.nulledNow)
    return problem === null && this.#goOn()
  }

  /** The leads are used as they are. True where a reading that waited for it can be entered now. */
  leaveUnnulled(): boolean {
    if (this.setup) this.#draft.leftUnnulled = setKey(this.setup)
    this.#app.announcer.say(entryTexts.leftUnnulled)
    return this.#goOn()
  }

  /** Writes what the leads read with their far ends shorted; a sentence where that cannot be. */
  enterShorted(result: OhmOrOver): string | null {
    const { session, identity } = this.#app
    const { setup } = this
    if (!setup?.kit || !setup.lead) return entryTexts.noKit
    const visit = visitToWriteIn(session, identity, setup)
    if (!visit.ok) return describeProblem(visit.error)
    if (!session.site) return entryTexts.noSite
    const lead = { kit: setup.kit.id, lead: setup.lead.id, result }
    const problem = session.append(leadCheckNow(session.site, identity, visit.value, lead))
    return problem && describeProblem(problem)
  }

  #goOn(): boolean {
    const waited = this.#waitsForNulling
    this.forgive()
    return waited
  }

  #write(unit: TypedUnit): string | null {
    const { session, selection, identity } = this.#app
    const { setup } = this
    if (!session.canWrite) return entryTexts.readOnly
    if (!setup?.kit) return entryTexts.noKit
    const ends = this.#ends()
    if (typeof ends === 'string') return ends
    if (this.held && this.#book) return describeHeld(this.held.plan, this.held.hold, this.#book)
    if (this.lock !== null) return this.lock
    const { kit, lead } = setup
    const { ohms, isOver, repeats, extras } = this.#draft
    const result = readTypedOhms(ohms, isOver, kit, unit)
    if (!result.ok) return result.error
    const more = moreOfReading(extras, kit.method)
    if (!more.ok) return more.error
    if (this.nullingState === 'asked') {
      this.#waitsForNulling = true
      return entryTexts.nullingFirst
    }
    const visit = visitToWriteIn(session, identity, setup, this.#app.usual.party)
    if (!visit.ok) return describeProblem(visit.error)
    if (!session.site) return entryTexts.bothEnds
    const [from, to] = ends
    const planned = plannedPair(
      planOf(session.site.drawing, extras.plan),
      extras.planPair,
      from.part,
      to.part,
    )
    const reading = writtenReading(session.site, identity, {
      ...{ visit: visit.value, kit, lead: lead?.id ?? null, from, to, result: result.value, repeats },
      note: extras.note.trim(),
      more: { ...more.value, ...planned },
    })
    const first = this.#firstOf(reading)
    const problem = session.append(reading)
    if (problem) return describeProblem(problem)
    this.#entered = reading.id
    this.#first = first
    this.#draft.clearValue()
    this.#check(reading)
    // the fixed end stays clamped: the next reading begins there
    if (this.method !== 'loopClamp') selection.beginPair(from.part)
    return null
  }

  #ends(): readonly [Spot, Spot] | string {
    const { fromClip, toClip, method } = this
    if (method === 'loopClamp' || method === 'earthElectrode') {
      const ends = singleEnds(method, this.loop?.from ?? null, fromClip)
      return ends.ok ? ends.value : ends.error
    }
    return fromClip && toClip ? [fromClip, toClip] : entryTexts.bothEnds
  }

  #firstOf(reading: EntryOf<'reading'>): Told['first'] {
    const { site } = this.#app.session
    const kit = this.setup?.kit
    if (!site || !kit) return null
    if (reading.method === 'earthElectrode') {
      return { verdict: electrodeVerdict(site.drawing, reading.result), expectedOhm: null }
    }
    const known = this.#expectationNow
    if (!known) return null
    const expectation =
      this.nullingState === 'not' && this.isPair
        ? withLeadIn(known, this.expected, this.setup?.lead, site.drawing.facts.ambientC)
        : known
    const peers = peersOf(site.drawing, site.record, reading, this.#app.results.locate)
    const { expectedOhm, path } = expectation
    return {
      verdict: firstVerdict(expectation, kit, reading, peers),
      expectedOhm: path === 'metal' ? expectedOhm : null,
    }
  }

  /** A high one is led through the checks; a try of one that is checked already belongs to it. */
  #check({ id, repeats }: EntryOf<'reading'>): void {
    const { checking } = this.#draft.extras
    if (checking !== null && repeats === checking) return
    const asks = this.#first !== null && asksForChecks(this.#first.verdict)
    this.#draft.noteDown({ checking: asks ? id : null })
  }

  #clipAt(part: string | null, chosen: Clip | null): Clip | null {
    const { site } = this.#app.session
    if (part === null || !site) return null
    return chosen?.part === part ? chosen : usualClip(site.drawing, part)
  }

  #ask(): Promise<ExpectAnswer | null> | null {
    const { results, selection } = this.#app
    // asked again once the engine has the site as it is now
    void results.isCurrent
    const { pairFrom: from, pairTo: to } = selection
    if (from === null || to === null || !this.#setup || !this.isPair) return null
    const { kit, lead } = this.#setup
    // until it is said, the leads are taken as nulled: that is how a pair is read as a rule
    const isNulled = this.nullingState !== 'not'
    return results.ask('expect', { ...asFound, from, to, kit, lead, isNulled })
  }

  #askLoop(): Promise<JointAnswer | null> | null {
    const { results } = this.#app
    void results.isCurrent
    const { around } = this.#draft.extras
    if (around === null || this.method !== 'loopClamp') return null
    return results.ask('inspectJoint', { ...asFound, joint: around })
  }
}

/** Instrument and lead that are measured with. */
function setKey({ kit, lead }: MeasuringSetup): string {
  return `${kit?.id} ${lead?.id}`
}
