import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { LessonValue, ShippedLesson } from '../model/lessons.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'

interface Answered {
  readonly site: Site
  readonly lesson: ShippedLesson
  readonly values: Readonly<Record<string, LessonValue>>
}

/**
 * The lesson that is open: at which step, which choice was made of each question, and the figures that the engine gives on
 * the site that is open. Nothing of it is stored.
 */
export class LessonDesk {
  readonly #engine: Pick<EngineClient, 'ask' | 'cancel'>
  #lesson = $state.raw<ShippedLesson | null>(null)
  /** Id of the copy in the site whose texts are shown instead of the shipped ones. */
  #copy = $state<string | null>(null)
  #step = $state(0)
  #chosen = $state.raw<Readonly<Record<number, number>>>({})
  #answered = $state.raw<Answered | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #isStopped = $state(false)
  #asked: { readonly site: Site; readonly lesson: ShippedLesson } | null = null

  constructor(engine: Pick<EngineClient, 'ask' | 'cancel'>) {
    this.#engine = engine
  }

  get lesson(): ShippedLesson | null {
    return this.#lesson
  }

  get copy(): string | null {
    return this.#copy
  }

  get step(): number {
    return this.#step
  }

  /** The choice that was made of the question of a step; null while none was. */
  chosenOf(step: number): number | null {
    return step in this.#chosen ? this.#chosen[step] : null
  }

  /** Figures of the lesson that is open; of the site as it is now, or as it was (`isCurrent`). None while none is known. */
  get values(): Readonly<Record<string, LessonValue>> {
    return this.#answered !== null && this.#answered.lesson === this.#lesson ? this.#answered.values : {}
  }

  isCurrent(site: Site | null): boolean {
    return this.#answered !== null && this.#answered.lesson === this.#lesson && this.#answered.site === site
  }

  get progress(): Progress | null {
    return this.#progress
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  get isStopped(): boolean {
    return this.#isStopped
  }

  open(lesson: ShippedLesson, copy: string | null = null): void {
    this.#lesson = lesson
    this.#copy = copy
    this.#step = 0
    this.#chosen = {}
    this.#problems = []
    this.#isStopped = false
  }

  /** Another text of the same lesson: the step stays. */
  showCopy(copy: string | null): void {
    this.#copy = copy
  }

  close(): void {
    this.cancel()
    this.#isStopped = false
    this.#lesson = null
    this.#copy = null
    this.#problems = []
  }

  goTo(step: number): void {
    const last = (this.#lesson?.steps.length ?? 1) - 1
    this.#step = Math.min(Math.max(step, 0), last)
  }

  choose(choice: number): void {
    this.#chosen = { ...this.#chosen, [this.#step]: choice }
  }

  /** Asks for the figures where they are not known; called whenever lesson or site change. */
  async refresh(site: Site | null): Promise<void> {
    const lesson = this.#lesson
    if (site === null || lesson === null || site.id !== lesson.site || this.isCurrent(site)) return
    if (this.#asked?.site === site && this.#asked.lesson === lesson) return
    const asked = { site, lesson }
    this.#asked = asked
    this.#isStopped = false
    this.#progress = { stage: 'index', fraction: 0 }
    // the engine hears of another site in the same turn as this does
    await Promise.resolve()
    if (this.#asked !== asked) return
    const input = { setups: lesson.setups, figures: lesson.figures }
    const outcome = await this.#engine.ask('lesson', input, (progress) => {
      if (this.#asked === asked) this.#progress = progress
    })
    if (this.#asked !== asked) return
    this.#asked = null
    this.#progress = null
    this.#problems = outcome.status === 'problem' ? outcome.problems : []
    if (outcome.status === 'done') this.#answered = { site, lesson, values: outcome.answer.values }
  }

  cancel(): void {
    if (this.#progress === null) return
    this.#asked = null
    this.#progress = null
    this.#isStopped = true
    this.#engine.cancel('lesson')
  }
}
