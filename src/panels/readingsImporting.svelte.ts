import { decodeText } from '../files/decodeText.ts'
import { planReadings, type ReadingPlan } from '../files/readings/planReadings.ts'
import {
  guessReadingChoices,
  type ReadingChoices,
  type ReadingTarget,
} from '../files/readings/readingChoices.ts'
import { readCells, type Cells, type Delimiter } from '../files/tables/readCells.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { inTurns } from '../ui/inTurns.ts'
import { deviceZone } from '../state/listTarget.ts'

/** A list that was taken apart, and how it is to be read. */
export interface ListSource {
  readonly text: string
  readonly encoding: 'utf-8' | 'utf-16' | 'windows-1252'
  readonly cells: Cells
  readonly choices: ReadingChoices
}

/** What a list is read against. */
export interface ListGround {
  readonly site: Site
  readonly index: SiteIndex
  readonly target: ReadingTarget
  /** This moment, ISO 8601. */
  readonly now: string
}

/**
 * A list of readings on its way into the record: read, understood, and understood again whenever the user says otherwise, some
 * milliseconds at a time. A newer wish ends the older work.
 */
export class ReadingsImporting {
  name = $state<string | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  source = $state.raw<ListSource | null>(null)
  plan = $state.raw<ReadingPlan | null>(null)
  /** 0 … 1 while something is being done, else null. */
  share = $state<number | null>(null)
  #end: () => void = () => undefined
  #taking = 0

  async takeFile(file: File, ground: ListGround): Promise<void> {
    this.clear()
    const taking = this.#taking
    this.name = file.name
    if (file.size > limits.fileBytes) {
      this.problems = [problem('file.tooLarge', { bytes: file.size, mostBytes: limits.fileBytes })]
      return
    }
    this.share = 0
    let bytes: Uint8Array
    try {
      bytes = new Uint8Array(await file.arrayBuffer())
    } catch (error) {
      this.#fail(problem('file.missing', { reason: String(error) }))
      return
    }
    if (this.#taking !== taking) return
    const decoded = decodeText(bytes)
    if (!decoded.ok) return this.#fail(decoded.error)
    this.#read(decoded.value.text, decoded.value.encoding, null, ground)
  }

  /** Cells from a spreadsheet, parted by tabs; or any delimited text. */
  takeText(text: string, name: string, ground: ListGround): void {
    this.clear()
    this.name = name
    if (text.includes('\0')) return this.#fail(problem('file.notTable', {}))
    this.#read(text, 'utf-8', null, ground)
  }

  change(changes: Partial<ReadingChoices>, ground: ListGround): void {
    if (this.source === null) return
    this.source = { ...this.source, choices: { ...this.source.choices, ...changes } }
    this.#plan(ground)
  }

  changeDelimiter(delimiter: Delimiter, ground: ListGround): void {
    if (this.source) this.#read(this.source.text, this.source.encoding, delimiter, ground)
  }

  /** The list goes elsewhere: instruments and leads are those of that visit. */
  retarget(ground: ListGround): void {
    const { kits, leads } = ground.target
    this.change({ kit: kits[0]?.id ?? null, lead: leads[0]?.id ?? null }, ground)
  }

  clear(): void {
    this.#end()
    this.#taking++
    this.name = null
    this.problems = []
    this.source = null
    this.plan = null
    this.share = null
  }

  #read(
    text: string,
    encoding: ListSource['encoding'],
    delimiter: Delimiter | null,
    ground: ListGround,
  ): void {
    this.#run(readCells(text, delimiter), (cells) => {
      if (!cells.ok) return this.#fail(cells.error)
      const choices = guessReadingChoices(cells.value, ground.target)
      this.source = { text, encoding, cells: cells.value, choices }
      this.#plan(ground)
    })
  }

  #plan({ site, index, target, now }: ListGround): void {
    if (this.source === null) return
    const { cells, choices } = this.source
    const nowMs = Date.parse(now)
    const job = planReadings({
      cells,
      choices,
      target,
      index,
      record: site.record,
      zoneOf: deviceZone,
      nowMs,
    })
    this.#run(job, (plan) => (this.plan = plan))
  }

  #fail(found: Problem): void {
    this.share = null
    this.source = null
    this.plan = null
    this.problems = [found]
  }

  #run<T>(job: Generator<number, T>, then: (value: T) => void): void {
    this.#end()
    this.share = 0
    this.#end = inTurns(this.#steps(job, then))
  }

  *#steps<T>(job: Generator<number, T>, then: (value: T) => void): Generator<void, void> {
    for (let step = job.next(); ; step = job.next()) {
      if (step.done) {
        this.share = null
        return then(step.value)
      }
      this.share = step.value
      yield
    }
  }
}
