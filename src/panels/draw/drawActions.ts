import { canPasteCopy, pasteCopy } from '../../model/edits/pasteCopy.ts'
import { canMoveItems, moveItems } from '../../model/edits/moveItems.ts'
import { canRemoveItems, removeItems } from '../../model/edits/removeItems.ts'
import { takeCopy, type Copied } from '../../model/copied.ts'
import { findDrawn, type DrawnItem } from '../../model/drawnItem.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Site } from '../../model/schema/site.ts'
import type { AppState } from '../../state/appState.ts'
import { countItems, nameItem } from '../../text/itemNames.ts'
import { openNameBook } from '../../text/places.ts'
import { drawTexts } from '../../text/drawToolText.ts'
import { formTexts } from '../../text/formText.ts'
import { describeProblem } from '../../text/problems.ts'
import { changeOf } from './change.ts'
import type { OrphanQuestion } from './orphanQuestion.svelte.ts'

/** A copy that is put in stands so many lines of the grid beside what it was taken from. */
const pasteSteps = 4

/** What keys and buttons do with what is chosen. Each says whether it did something, and tells what it did. */
export class DrawActions {
  readonly #app: AppState
  readonly #question: OrphanQuestion
  readonly #onhelp: () => void
  readonly #onshow: (item: DrawnItem) => void
  #copied: Copied | null = null
  #pastes = 0

  constructor(
    app: AppState,
    question: OrphanQuestion,
    onhelp: () => void,
    onshow: (item: DrawnItem) => void,
  ) {
    this.#app = app
    this.#question = question
    this.#onhelp = onhelp
    this.#onshow = onshow
  }

  /** Says what a tool has done; of a conductor also which of its ends hold on nothing. */
  tellDone(label: string, made: readonly DrawnItem[]): void {
    const { session, announcer } = this.#app
    const [first] = made
    const conductor =
      session.site && first?.sort === 'conductor'
        ? findDrawn(session.site.drawing, 'conductor', first.id)
        : null
    const ends = conductor && !conductor.closed ? [conductor.points[0], conductor.points.at(-1)!] : []
    const loose = ends.filter(({ landing }) => landing === null).length
    announcer.say(loose > 0 ? drawTexts.looseEnds(label, loose) : formTexts.done(label))
  }

  help(): boolean {
    this.#onhelp()
    return true
  }

  /** Moves what is chosen; steps that follow at once are one step of the history. */
  nudge(byM: PointM): boolean {
    const { desk, session, announcer } = this.#app
    const args = { items: desk.chosen, byM }
    if (!session.site || desk.chosen.length === 0) return false
    const can = canMoveItems(session.site, args)
    if (can !== true) announcer.say(describeProblem(can))
    else session.commit(moveItems(args), drawTexts.nudge, null, 'nudge')
    return true
  }

  /** Takes out what is chosen; asks first where readings would lose their place. */
  remove(): boolean {
    const { desk, session, selection, announcer } = this.#app
    const { chosen } = desk
    if (!session.site || chosen.length === 0) return false
    if (selection.picked !== null) {
      announcer.say(drawTexts.cardFirst(this.#name(chosen)))
      return true
    }
    const what = this.#name(chosen)
    const change = changeOf(canRemoveItems, removeItems, { items: chosen }, drawTexts.removeStep(what))
    const landings = countLandings(session.site)
    const why = this.#question.make(change, () => {
      const kept = session.site ? countLandings(session.site) : landings
      announcer.say(drawTexts.removed(what, landings - kept))
    })
    if (why !== null) announcer.say(why)
    return true
  }

  copy(): boolean {
    const { desk, session, announcer } = this.#app
    if (!session.site || desk.chosen.length === 0) return false
    this.#copied = takeCopy(session.site, desk.chosen)
    this.#pastes = 0
    announcer.say(drawTexts.copied(this.#name(desk.chosen)))
    return true
  }

  paste(): boolean {
    const { desk, session, announcer } = this.#app
    if (!session.site || !session.canWrite) return false
    if (!this.#copied) {
      announcer.say(drawTexts.nothingCopied)
      return true
    }
    const stepM = ++this.#pastes * pasteSteps * Math.max(desk.gridM, 0.25)
    const args = { copied: this.#copied, byM: { x: stepM, y: -stepM } }
    const can = canPasteCopy(session.site, args)
    if (can !== true) announcer.say(describeProblem(can))
    else desk.commit(pasteCopy(args), drawTexts.paste, true)
    desk.take('select')
    return true
  }

  showNext(by: 1 | -1): boolean {
    const { desk, session, announcer } = this.#app
    const next = desk.chooseNext(by)
    if (!next || !session.site) return false
    announcer.say(nameItem(openNameBook(session.site.drawing), next))
    this.#onshow(next)
    return true
  }

  #name(items: readonly DrawnItem[]): string {
    const { site } = this.#app.session
    return items.length === 1 && site ? nameItem(openNameBook(site.drawing), items[0]) : countItems(items)
  }
}

function countLandings({ drawing }: Site): number {
  return drawing.conductors.reduce(
    (sum, { points }) => sum + points.filter(({ landing }) => landing !== null).length,
    0,
  )
}
