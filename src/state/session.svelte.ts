import { indexSite, type SiteIndex } from '../layout/siteIndex.ts'
import type { PatternCache } from '../layout/tablePattern.ts'
import type { Problem } from '../model/problem.ts'
import { appendEntries } from '../model/record/appendEntries.ts'
import { appendEntry } from '../model/record/appendEntry.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Entry } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import type { Picked } from './picked.ts'

/** One step of the drawing's history; the record of readings is not part of it. */
interface Step {
  readonly drawing: Drawing
  /** Of the site, which stands beside its drawing. */
  readonly name: string
  readonly label: string
  readonly picked: Picked | null
  /** Steps of one series that follow one another at once are one step. */
  readonly series: string | null
  readonly atMs: number
}

/** `none`: no site; `readOnly`: another tab holds the site. */
export type Saving = 'none' | 'saved' | 'saving' | 'failed' | 'readOnly'

const mostSteps = 500
/** Steps of a series belong together while they follow so soon. */
const seriesMs = 600

/**
 * The site that is open: its drawing with undo, its record without. Everything is replaced, never changed, so
 * that whoever keeps an older site keeps it whole.
 */
export class Session {
  #site = $state.raw<Site | null>(null)
  #done = $state.raw<readonly Step[]>([])
  #undone = $state.raw<readonly Step[]>([])
  saving = $state<Saving>('none')
  /** Why the site could not be saved, where it could not. */
  problem = $state.raw<Problem | null>(null)
  readonly #patterns: PatternCache = new WeakMap()
  readonly #newId: () => string
  readonly #nowMs: () => number
  readonly #drawing = $derived(this.#site?.drawing ?? null)
  readonly #indexed = $derived(this.#drawing && indexSite(this.#drawing, this.#patterns))

  /**
   * @param newId makes a UUID; each committed edit of the drawing is a revision of its own
   * @param nowMs a clock, by which steps of a series are put together
   */
  constructor(newId: () => string, nowMs: () => number = () => performance.now()) {
    this.#newId = newId
    this.#nowMs = nowMs
  }

  get site(): Site | null {
    return this.#site
  }

  get index(): SiteIndex | null {
    return this.#indexed?.ok ? this.#indexed.value : null
  }

  /** Why the drawing cannot be numbered, so that it has no index; empty where it has one. Files like that are not opened. */
  get faults(): readonly Problem[] {
    return this.#indexed && !this.#indexed.ok ? this.#indexed.error : []
  }

  get canWrite(): boolean {
    return this.#site !== null && this.saving !== 'readOnly'
  }

  get undoLabel(): string | null {
    return this.#done.at(-1)?.label ?? null
  }

  get redoLabel(): string | null {
    return this.#undone.at(-1)?.label ?? null
  }

  /** Puts another site in place of the one that is open; its history starts empty. */
  show(site: Site | null, saving: Saving): void {
    this.#site = site
    this.#done = []
    this.#undone = []
    this.problem = null
    this.saving = site === null ? 'none' : saving
  }

  /**
   * Applies an edit of the drawing as one step of history. An edit that changes nothing leaves no step; one that
   * follows soon on another of the same series, as nudges do, belongs to that one's step.
   */
  commit(
    edit: (site: Site) => Site,
    label: string,
    picked: Picked | null = null,
    series: string | null = null,
  ): void {
    if (this.#site === null || !this.canWrite) return
    const next = edit(this.#site)
    if (next === this.#site) return
    const atMs = this.#nowMs()
    const last = this.#done.at(-1)
    const isNext = last && series !== null && last.series === series && atMs - last.atMs < seriesMs
    const step: Step = isNext
      ? { ...last, atMs }
      : { drawing: this.#site.drawing, name: this.#site.name, label, picked, series, atMs }
    this.#done = [...(isNext ? this.#done.slice(0, -1) : this.#done), step].slice(-mostSteps)
    this.#undone = []
    const parent = step.drawing.revision
    this.#change({ ...next, drawing: { ...next.drawing, revision: this.#newId(), parent } })
  }

  /**
   * Takes over a site into which a record was joined. Where it has another drawing, that is one step of history under
   * the label; the record never goes back.
   */
  join(next: Site, label: string): void {
    if (this.#site === null || !this.canWrite || next.id !== this.#site.id) return
    const { drawing, name } = this.#site
    if (next.drawing !== drawing || next.name !== name) {
      const step = { drawing, name, label, picked: null, series: null, atMs: this.#nowMs() }
      this.#done = [...this.#done, step].slice(-mostSteps)
      this.#undone = []
    }
    this.#change(next)
  }

  /** Adds an entry to the record. Entries cannot be undone: a later entry withdraws or corrects them. */
  append(entry: Entry): Problem | null {
    if (this.#site === null || !this.canWrite) return null
    const appended = appendEntry(entry)(this.#site)
    if (!appended.ok) return appended.error
    this.#change(appended.value)
    return null
  }

  /** Adds entries to the record, all or none: a list of readings, or the withdrawals of one. */
  appendAll(entries: readonly Entry[]): Problem | null {
    if (this.#site === null || !this.canWrite) return null
    const appended = appendEntries(entries)(this.#site)
    if (!appended.ok) return appended.error
    this.#change(appended.value)
    return null
  }

  /** Takes the last step back; returns what was picked before it. */
  undo(): Picked | null {
    return this.#step('undo')
  }

  redo(): Picked | null {
    return this.#step('redo')
  }

  #step(way: 'undo' | 'redo'): Picked | null {
    const from = way === 'undo' ? this.#done : this.#undone
    const step = from.at(-1)
    if (this.#site === null || !this.canWrite || step === undefined) return null
    const back: Step = { ...step, drawing: this.#site.drawing, name: this.#site.name }
    if (way === 'undo') {
      this.#done = this.#done.slice(0, -1)
      this.#undone = [...this.#undone, back]
    } else {
      this.#undone = this.#undone.slice(0, -1)
      this.#done = [...this.#done, back]
    }
    this.#change({ ...this.#site, drawing: step.drawing, name: step.name })
    return step.picked
  }

  /** From here on the site is not what is on the disk: "saved" must not be said for another moment. */
  #change(site: Site): void {
    if (site === this.#site) return
    this.#site = site
    if (this.saving === 'saved') this.saving = 'saving'
  }
}
