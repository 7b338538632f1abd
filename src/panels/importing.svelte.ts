import type { Result } from '../base/result.ts'
import { decodeText } from '../files/decodeText.ts'
import { guessGeoChoices, type GeoChoices } from '../files/geo/geoChoices.ts'
import { planGeo } from '../files/geo/planGeo.ts'
import { readGeoJson, type GeoThings } from '../files/geo/readGeoJson.ts'
import { canImport, countsOf, type ImportCounts, type ImportPlan } from '../files/importPlan.ts'
import { planTables } from '../files/tables/planTables.ts'
import { readCells, type Cells, type Delimiter } from '../files/tables/readCells.ts'
import { guessChoices, guessTypes, type TableChoices } from '../files/tables/tableChoices.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { inTurns } from '../ui/inTurns.ts'

/** A list that was taken apart, and how it is to be read. */
export interface TableSource {
  readonly kind: 'table'
  readonly text: string
  readonly encoding: 'utf-8' | 'utf-16' | 'windows-1252'
  readonly cells: Cells
  readonly choices: TableChoices
}

export interface GeoSource {
  readonly kind: 'geo'
  readonly things: GeoThings
  readonly choices: GeoChoices
}

export interface ReadyPlan {
  readonly plan: ImportPlan
  readonly counts: ImportCounts
  /** Why the drawing cannot take what is right, where it cannot. */
  readonly refused: Problem | null
}

/**
 * A file on its way into the drawing: read, understood, and planned again whenever the user says otherwise. All of it goes on
 * a few milliseconds at a time; a newer wish ends the older work.
 */
export class Importing {
  fileName = $state<string | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  source = $state.raw<TableSource | GeoSource | null>(null)
  ready = $state.raw<ReadyPlan | null>(null)
  /** 0 … 1 while something is being done, else null. */
  share = $state<number | null>(null)
  #end: () => void = () => undefined
  #file: File | null = null

  /** Takes a file; nothing happens for one that is already here. */
  async take(file: File, site: Site): Promise<void> {
    if (file === this.#file) return
    this.clear()
    this.#file = file
    this.fileName = file.name
    if (file.size > limits.fileBytes) {
      const facts = { bytes: file.size, mostBytes: limits.fileBytes }
      this.problems = [problem('file.tooLarge', facts)]
      return
    }
    this.share = 0
    let bytes: Uint8Array
    try {
      bytes = new Uint8Array(await file.arrayBuffer())
    } catch (error) {
      this.share = null
      this.problems = [problem('file.missing', { reason: String(error) })]
      return
    }
    if (this.#file !== file) return
    if (isJson(file.name, bytes)) this.#readGeo(bytes, site)
    else this.#readTable(bytes, site)
  }

  clear(): void {
    this.#end()
    this.#file = null
    this.fileName = null
    this.problems = []
    this.source = null
    this.ready = null
    this.share = null
  }

  /** What the file says is to be read otherwise. */
  changeTable(changes: Partial<TableChoices>, site: Site): void {
    if (this.source?.kind !== 'table') return
    const { cells } = this.source
    let choices = { ...this.source.choices, ...changes }
    if (changes.columns) choices = { ...choices, typeOf: guessTypes(cells, choices, site.drawing) }
    this.source = { ...this.source, choices }
    this.#plan(site)
  }

  /** The text is taken apart with another sign between cells; what was chosen for its columns is guessed anew. */
  changeDelimiter(delimiter: Delimiter, site: Site): void {
    if (this.source?.kind !== 'table') return
    const { text, encoding } = this.source
    this.#run(readCells(text, delimiter), (cells) => this.#takeCells(text, encoding, cells, site))
  }

  changeGeo(changes: Partial<GeoChoices>, site: Site): void {
    if (this.source?.kind !== 'geo') return
    this.source = { ...this.source, choices: { ...this.source.choices, ...changes } }
    this.#plan(site)
  }

  /** The site has another table type: what names one is looked up again. */
  changeTypes(site: Site): void {
    const type = site.drawing.tableTypes.at(-1)?.id ?? null
    if (this.source?.kind === 'geo') this.changeGeo({ type, polygon: 'table' }, site)
    else if (this.source) {
      const { cells, choices } = this.source
      this.changeTable({ type, typeOf: guessTypes(cells, choices, site.drawing) }, site)
    }
  }

  #readTable(bytes: Uint8Array, site: Site): void {
    const decoded = decodeText(bytes)
    if (!decoded.ok) return this.#fail([decoded.error])
    const { text, encoding } = decoded.value
    this.#run(readCells(text), (cells) => this.#takeCells(text, encoding, cells, site))
  }

  #takeCells(
    text: string,
    encoding: TableSource['encoding'],
    cells: Result<Cells, Problem>,
    site: Site,
  ): void {
    if (!cells.ok) return this.#fail([cells.error])
    const choices = guessChoices(cells.value, site.drawing)
    this.source = { kind: 'table', text, encoding, cells: cells.value, choices }
    this.#plan(site)
  }

  #readGeo(bytes: Uint8Array, site: Site): void {
    this.#run(readGeoJson(bytes), (things) => {
      if (!things.ok) return this.#fail(things.error)
      const choices = guessGeoChoices(things.value, site.drawing)
      this.source = { kind: 'geo', things: things.value, choices }
      this.#plan(site)
    })
  }

  #plan(site: Site): void {
    const { source } = this
    if (source === null) return
    const job =
      source.kind === 'table'
        ? planTables(source.cells, source.choices, site.drawing)
        : planGeo(source.things, source.choices, site.drawing)
    this.#run(job, (plan) => {
      const refusal = canImport(site, plan)
      this.ready = { plan, counts: countsOf(site, plan), refused: refusal === true ? null : refusal }
    })
  }

  #fail(problems: readonly Problem[]): void {
    this.share = null
    this.source = null
    this.ready = null
    this.problems = problems
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

/** By its name, or by its first sign where the name says nothing. */
function isJson(name: string, bytes: Uint8Array): boolean {
  if (/\.(geo)?json$/i.test(name)) return true
  if (/\.(csv|tsv|txt)$/i.test(name)) return false
  const first = bytes.find((byte) => byte > 0x20 && byte !== 0xef && byte !== 0xbb && byte !== 0xbf)
  return first === 0x7b
}
