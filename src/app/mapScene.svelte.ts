import type { SiteIndex } from '../layout/siteIndex.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Site } from '../model/schema/site.ts'
import type { AppState } from '../state/appState.ts'
import {
  nextPair,
  noMarks,
  partOf,
  readingMarks,
  suspectMarks,
  type DrawnReading,
  type MapMarks,
  type ReadingMark,
} from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import { drillLines } from '../state/drillLines.ts'
import { faultAt } from '../state/faultAt.ts'
import { faultMarks } from '../state/faultMarks.ts'
import { pickedPair, planLines, proposedLines } from '../state/planMarks.ts'
import type { PartPair } from '../state/selection.svelte.ts'
import { verdictsOf } from '../state/readingLook.ts'
import { describeGroundAtPointer } from '../text/faultGroundText.ts'
import { nameJoint } from '../text/jointNames.ts'
import { describeGhost } from '../text/nextPanelText.ts'
import { describeTold } from '../text/drawText.ts'
import { namePair, namePart } from '../text/partNames.ts'
import { openNameBook, type NameBook } from '../text/places.ts'
import { describeAtPointer } from '../text/faultScreenText.ts'
import { formatShown, shownSteps } from '../text/shownSteps.ts'

/** Readings that count, with what they read in words. */
export function drawnReadings(site: Site): readonly DrawnReading[] {
  const record = effectiveRecord(site.record)
  const all = record.flatMap(({ entry }) => (entry.entry === 'reading' ? [entry] : []))
  const steps = shownSteps(all)
  return record.flatMap(({ entry, withdrawnBy }): DrawnReading[] => {
    if (entry.entry !== 'reading' || withdrawnBy) return []
    return [{ entry: entry.id, from: entry.from.part, to: entry.to.part, label: formatShown(entry, steps) }]
  })
}

/** The pair that is to be read before all else; null where something else comes first, or it is older than the site. */
function firstPair({ next, isNextCurrent }: AppState['results']): PartPair | null {
  const first = isNextCurrent ? next?.actions[0] : undefined
  return first?.from !== undefined && first.to !== undefined ? { from: first.from, to: first.to } : null
}

/** What the map shows over the drawing, and what things are called, kept in step with the state. */
export class MapScene {
  readonly #state: AppState
  readonly #readings = $derived.by(() => {
    const { site } = this.#state.session
    return site ? drawnReadings(site) : []
  })
  readonly #verdicts = $derived.by(() => verdictsOf(this.#state.results.locate, this.#state.results.judge))
  readonly #book = $derived.by((): NameBook | null => {
    const { site } = this.#state.session
    return site ? openNameBook(site.drawing) : null
  })
  readonly #marks = $derived.by((): MapMarks => {
    const { session, selection, results } = this.#state
    const { index } = session
    if (index === null) return noMarks
    const { picked, hovered, pointedPair, pairFrom, pairTo } = selection
    return {
      readings: readingMarks(index, this.#readings, this.#verdicts, picked, selection.readingsBy),
      suspects: suspectMarks(index, results.locate, picked),
      currentPerAmpere: results.currentMap?.perAmpere ?? null,
      picked,
      hovered,
      pairFrom: partOf(index, pairFrom),
      pairTo: partOf(index, pairTo),
      // a pair that is being entered has a line of its own
      next: pairTo === null ? nextPair(index, pointedPair ?? firstPair(results)) : null,
    }
  })

  /** While tests are planned, what was measured rests: the map shows the plan and what it would show. */
  readonly #planned = $derived.by((): MapMarks => {
    const { session, selection, planDesk } = this.#state
    const { index } = session
    if (index === null) return noMarks
    const { picked, hovered, pairFrom, pairTo } = selection
    return {
      ...noMarks,
      readings: this.#lines(index, picked),
      sights: planDesk.showsSights ? (planDesk.shownCoverage?.sight ?? null) : null,
      walk: planDesk.showsWay ? (planDesk.walk?.path ?? null) : null,
      picked,
      hovered,
      pairFrom: partOf(index, pairFrom),
      pairTo: partOf(index, pairTo),
    }
  })

  readonly #fault = $derived.by(() => {
    const { session, faultDesk } = this.#state
    return session.index && faultMarks(session.index, faultDesk)
  })
  readonly #shares = $derived.by(() => {
    const { currentA = null, mostA = 0 } = this.#fault ?? {}
    return currentA && mostA > 0 ? Float32Array.from(currentA, (ampere) => ampere / mostA) : null
  })
  /** What was measured rests: the map shows where the current of a fault goes. */
  readonly #faulted = $derived.by((): MapMarks => {
    const { picked, hovered } = this.#state.selection
    return { ...noMarks, picked, hovered, fault: this.#fault, currentPerAmpere: this.#shares }
  })

  /** While somebody practises, the simulated readings alone: nothing that was measured, and no fault. */
  readonly #drilled = $derived.by((): MapMarks => {
    const { session, selection, drillDesk } = this.#state
    const { index } = session
    if (index === null || drillDesk.answer === null) return noMarks
    const { picked, hovered, pairFrom, pairTo } = selection
    return {
      ...noMarks,
      readings: drillLines(index, drillDesk.answer),
      suspects: suspectMarks(index, drillDesk.answer.told.suspects, picked),
      picked,
      hovered,
      pairFrom: partOf(index, pairFrom ?? drillDesk.from),
      pairTo: partOf(index, pairTo ?? drillDesk.to),
    }
  })

  constructor(state: AppState) {
    this.#state = state
  }

  #lines(index: SiteIndex, picked: Picked | null): readonly ReadingMark[] {
    const { planDesk } = this.#state
    const { draft } = planDesk.proposing
    if (!planDesk.showsPairs)
      return planLines(index, planDesk.plan, picked).filter(({ isPicked }) => isPicked)
    return draft ? proposedLines(index, draft.answer.pairs) : planLines(index, planDesk.plan, picked)
  }

  get marks(): MapMarks {
    return this.#marks
  }

  /** What the map shows while tests are planned. */
  get planned(): MapMarks {
    return this.#planned
  }

  /** What the map shows while somebody practises. */
  get drilled(): MapMarks {
    return this.#drilled
  }

  /** What the map shows while a fault is looked at. */
  get faulted(): MapMarks {
    return this.#faulted
  }

  /** What is told of a part or joint at the pointer while a fault is looked at: its name, and its volts or amperes. */
  readonly tellOfFault = (picked: Picked): string | null => {
    const { session, faultDesk, lessonDesk } = this.#state
    if (!session.index || faultDesk.shown === null) return null
    const told = faultAt(session.index, faultDesk, picked)
    return told && describeAtPointer(this.nameOf(picked), told, lessonDesk.lesson === null)
  }

  /** What is told of bare ground at the pointer: its volts, while the map shows them. */
  readonly tellOfGround = (atM: PointM): string | null => {
    const volt = this.#state.faultDesk.ground.voltAt(atM)
    return volt === null ? null : describeGroundAtPointer(volt)
  }

  /** What the map shows while the array is drawn. */
  get drawing() {
    const { desk, session } = this.#state
    const { preview } = desk
    const told = preview?.told
      ? describeTold(preview.told, session.site?.drawing.facts.units ?? 'metric', (part) =>
          this.nameOf({ kind: 'part', address: part }),
        )
      : null
    return { chosen: desk.chosen, preview, told, hasHandles: desk.tool === 'select' && session.canWrite }
  }

  /** What the tag of the next reading says, while the map shows the one that comes before all else. */
  get nextName(): string | null {
    const { results, selection } = this.#state
    const first = selection.pairTo === null && selection.pointedPair === null ? firstPair(results) : null
    return first && this.#book ? describeGhost(first.from, first.to, this.#book) : null
  }

  /** What something is called, for whoever hears it. */
  readonly nameOf = (picked: Picked): string => {
    const book = this.#book
    if (book === null) return ''
    switch (picked.kind) {
      case 'part':
        return namePart(book, picked.address)
      case 'joint':
        return nameJoint(book, picked.address)
      case 'suspect':
        return nameJoint(book, picked.joint)
      case 'table':
        return `R${picked.row}/T${picked.table}`
      case 'reading': {
        const number = pickedPair(picked)
        if (number !== null) {
          const pair = this.#state.planDesk.plan?.pairs.find(({ id }) => id === number)
          return pair ? `${namePair(book, pair.from, pair.to)}` : ''
        }
        const reading = this.#readings.find((candidate) => candidate.entry === picked.entry)
        return reading ? `${namePair(book, reading.from, reading.to)}, ${reading.label}` : ''
      }
    }
  }
}
