import { itemAnchorsM } from '../layout/itemAnchors.ts'
import { boxOfItems, itemsInBox } from '../layout/itemBox.ts'
import { itemOutlineM } from '../layout/itemOutline.ts'
import { centreOfBox } from '../model/boxM.ts'
import { allDrawn, findDrawn, isSameItem, type DrawnItem } from '../model/drawnItem.ts'
import { addedItems } from '../model/edits/copyItems.ts'
import { describeDrawnDeed } from '../text/drawText.ts'
import type {
  DrawContext,
  DrawDone,
  DrawEvent,
  DrawPoint,
  DrawPreview,
  DrawToolName,
  Making,
} from '../tools/draw/drawTool.ts'
import { toolOf } from '../tools/draw/tools.ts'
import { AnchorIndex } from './anchorIndex.ts'
import { firstMaking, gridFor, makingFor } from './making.ts'
import type { Session } from './session.svelte.ts'

/**
 * The desk on which the array is drawn: the tool in hand and what it has begun, what is chosen, what new things are made
 * of. The map tells it what the pointer does; it commits whole gestures to the session and shows the rest as a preview.
 */
export class DrawDesk {
  readonly #session: Session
  #tool = $state<DrawToolName>('select')
  #state: unknown
  #preview = $state.raw<DrawPreview | null>(null)
  #isDragging = $state(false)
  #chosen = $state.raw<readonly DrawnItem[]>([])
  #making = $state.raw<Making>(firstMaking)
  /** Places snap to ends, alignments and the grid. */
  snaps = $state(true)
  /** A drag on empty ground chooses with a box. */
  boxes = $state(false)
  /** A box takes all that it touches. */
  boxTouches = $state(false)
  /** Pixels per metre of the map, which say how wide the grid is. */
  pxPerM = $state(10)
  /** What was done, as the undo step is called, and with what it made. */
  ondone: (label: string, made: readonly DrawnItem[]) => void = () => undefined
  /** An edit that a tool made cannot be made in this site. */
  onrefused: () => void = () => undefined
  /** A tap on what was chosen already: the map looks into it there. */
  oninspect: (at: DrawPoint) => void = () => undefined
  readonly #shown = $derived.by((): readonly DrawnItem[] => {
    const drawing = this.#session.site?.drawing
    const there = this.#chosen.filter(({ sort, id }) => drawing && findDrawn(drawing, sort, id))
    return there.length === this.#chosen.length ? this.#chosen : there
  })
  readonly #anchors = $derived.by(() => {
    const { index } = this.#session
    return (
      index &&
      new AnchorIndex(allDrawn(index.drawing).map((item) => ({ item, pointsM: itemAnchorsM(index, item) })))
    )
  })
  readonly #made = $derived.by(() => {
    const drawing = this.#session.site?.drawing
    return drawing ? makingFor(this.#making, drawing) : this.#making
  })

  constructor(session: Session) {
    this.#session = session
    this.#state = toolOf('select').idle
  }

  get tool(): DrawToolName {
    return this.#tool
  }

  /** Another tool; what the one before had begun is given up. */
  take(tool: DrawToolName): void {
    if (tool !== 'select' && tool !== 'block') this.#chosen = []
    this.#tool = tool
    this.giveUp()
  }

  /** Gives up what has been begun. */
  giveUp(): void {
    this.#state = toolOf(this.#tool).idle
    this.#preview = null
    this.#isDragging = false
  }

  /** What is chosen of what is still drawn. */
  get chosen(): readonly DrawnItem[] {
    return this.#shown
  }

  choose(items: readonly DrawnItem[]): void {
    this.#chosen = items
  }

  chooseAll(): void {
    const { site } = this.#session
    if (site) this.#chosen = allDrawn(site.drawing)
  }

  /** The next or previous drawn thing after the one that is chosen; the first where none is. */
  chooseNext(by: 1 | -1): DrawnItem | null {
    const { site } = this.#session
    const all = site ? allDrawn(site.drawing) : []
    if (all.length === 0) return null
    const [first] = this.#shown
    const at = first ? all.findIndex((item) => isSameItem(item, first)) : by === 1 ? -1 : 0
    const next = all[(at + by + all.length) % all.length]
    this.#chosen = [next]
    return next
  }

  get making(): Making {
    return this.#made
  }

  make(changes: Partial<Making>): void {
    this.#making = { ...this.#made, ...changes }
  }

  get preview(): DrawPreview | null {
    return this.#preview
  }

  get gridM(): number {
    return this.snaps ? gridFor(this.pxPerM, this.#session.site?.drawing.facts.units ?? 'metric') : 0
  }

  /** Something has been begun that Escape gives up. */
  get isBusy(): boolean {
    return this.#preview !== null && this.#state !== toolOf(this.#tool).idle
  }

  /** Something has been begun point by point and waits for the next one, or to be finished. */
  get isWaiting(): boolean {
    return this.isBusy && !this.#isDragging
  }

  owns(at: DrawPoint): boolean {
    const context = this.#context()
    return context !== null && toolOf(this.#tool).owns(this.#state, this.#held(at), context)
  }

  /** Gives the tool an event; what it completes becomes one step of the session's history. */
  step(event: DrawEvent): void {
    const context = this.#context()
    if (!context) return
    const { state, preview, done } = toolOf(this.#tool).step(this.#state, this.#snapped(event), context)
    this.#state = state
    this.#preview = preview
    this.#isDragging = event.kind === 'drag'
    if (done) this.#finish(done)
  }

  /** Commits an edit as one step and chooses what it added, or keeps the choice. */
  commit(edit: Extract<DrawDone, { kind: 'edit' }>['edit'], label: string, choosesAdded = false): boolean {
    const before = this.#session.site
    if (!before) return false
    this.#session.commit(edit, label)
    const after = this.#session.site
    if (after === before || !after) return false
    if (choosesAdded) this.#chosen = addedItems(before.drawing, after.drawing)
    return true
  }

  #finish(done: DrawDone): void {
    switch (done.kind) {
      case 'edit': {
        const label = describeDrawnDeed(done.what)
        const isDone = this.commit(done.edit, label, done.choose === 'added')
        if (!isDone) this.onrefused()
        else if (typeof done.choose === 'object') this.#chosen = done.choose
        if (isDone) this.ondone(label, done.choose === 'added' ? this.#chosen : [])
        return
      }
      case 'choose':
        this.#chosen = done.items
        return
      case 'inspect':
        this.oninspect(done.at)
    }
  }

  #held(at: DrawPoint): DrawPoint {
    return this.snaps || at.isFree ? at : { ...at, isFree: true }
  }

  #snapped(event: DrawEvent): DrawEvent {
    if ('from' in event) return { ...event, from: this.#held(event.from), at: this.#held(event.at) }
    return 'at' in event ? { ...event, at: this.#held(event.at) } : event
  }

  #context(): DrawContext | null {
    const { index, canWrite } = this.#session
    if (!index || !canWrite) return null
    const chosen = this.#shown
    const box = boxOfItems(index, chosen)
    const anchors = this.#anchors
    return {
      drawing: index.drawing,
      chosen,
      gridM: this.gridM,
      making: this.#made,
      isBoxing: this.boxes,
      boxTouches: this.boxTouches,
      centreM: box && centreOfBox(box),
      anchorsNear: (atM, withinM, except) => anchors?.near(atM, withinM, except) ?? [],
      outlineOf: (item) => itemOutlineM(index, item),
      itemsIn: ([a, b], isWhole) =>
        itemsInBox(
          index,
          {
            minX: Math.min(a.x, b.x),
            minY: Math.min(a.y, b.y),
            maxX: Math.max(a.x, b.x),
            maxY: Math.max(a.y, b.y),
          },
          isWhole,
        ),
    }
  }
}
