import type { DrillQuestion, DrillSheet } from '../model/drill.ts'
import type { KeyValues } from './preferences.svelte.ts'

const key = 'groundweave-drills'
/** Sheets that are kept; the oldest go first. */
const mostSheets = 200
const mostLetters = 200

interface Kept {
  readonly trainee: string
  readonly trainer: string
  readonly sheets: readonly DrillSheet[]
}

const nothing: Kept = { trainee: '', trainer: '', sheets: [] }

const texts = ['at', 'site', 'trainee', 'trainer', 'kit', 'joint'] as const
const numbers = ['seed', 'readings', 'minutes', 'wrongCalls', 'badTests', 'points'] as const

function soundSheet(found: unknown): DrillSheet | null {
  if (typeof found !== 'object' || found === null) return null
  const sheet = found as Record<string, unknown>
  if (!texts.every((name) => typeof sheet[name] === 'string')) return null
  if (!numbers.every((name) => Number.isFinite(sheet[name]))) return null
  if (sheet.by !== 'seed' && sheet.by !== 'trainer') return null
  if (typeof sheet.isFound !== 'boolean') return null
  const asked = sheet.asked as Partial<Record<DrillQuestion, unknown>> | null | undefined
  return {
    ...(sheet as unknown as DrillSheet),
    asked: { suspects: count(asked?.suspects), next: count(asked?.next) },
  }
}

function count(found: unknown): number | null {
  return typeof found === 'number' && Number.isFinite(found) ? found : null
}

function read(store: KeyValues | null): Kept {
  try {
    const found: unknown = JSON.parse(store?.getItem(key) ?? 'null')
    if (typeof found !== 'object' || found === null) return nothing
    const { trainee, trainer, sheets } = found as Partial<Record<keyof Kept, unknown>>
    return {
      trainee: typeof trainee === 'string' ? trainee : '',
      trainer: typeof trainer === 'string' ? trainer : '',
      sheets: (Array.isArray(sheets) ? sheets : []).flatMap((each) => soundSheet(each) ?? []),
    }
  } catch {
    return nothing
  }
}

/** Who practised and how it went: kept on this device alone, never in a site. */
export class DrillSheets {
  readonly #store: KeyValues | null
  #kept = $state.raw<Kept>(nothing)

  constructor(store: KeyValues | null) {
    this.#store = store
    this.#kept = read(store)
  }

  get sheets(): readonly DrillSheet[] {
    return this.#kept.sheets
  }

  get trainee(): string {
    return this.#kept.trainee
  }

  set trainee(trainee: string) {
    this.#keep({ trainee: trainee.slice(0, mostLetters) })
  }

  get trainer(): string {
    return this.#kept.trainer
  }

  set trainer(trainer: string) {
    this.#keep({ trainer: trainer.slice(0, mostLetters) })
  }

  add(sheet: DrillSheet): void {
    this.#keep({ sheets: [...this.#kept.sheets, sheet].slice(-mostSheets) })
  }

  remove(sheet: DrillSheet): void {
    this.#keep({ sheets: this.#kept.sheets.filter((each) => each !== sheet) })
  }

  clear(): void {
    this.#keep({ sheets: [] })
  }

  #keep(change: Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...change }
    try {
      this.#store?.setItem(key, JSON.stringify(this.#kept))
    } catch {
      // a full or blocked store: the sheets hold until the page is closed
    }
  }
}
