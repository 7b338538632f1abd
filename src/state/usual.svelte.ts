import { kitSchema, leadSchema, type Kit, type Lead } from '../model/schema/record.ts'
import type { KeyValues } from './preferences.svelte.ts'

const key = 'groundweave-usual'
/** Names that are suggested; the one used longest ago is let go first. */
const mostNames = 30
const mostSets = 30

interface Kept {
  readonly names: readonly string[]
  readonly party: readonly string[]
  readonly kits: readonly Kit[]
  readonly leads: readonly Lead[]
}

const nothing: Kept = { names: [], party: [], kits: [], leads: [] }

function texts(found: unknown): readonly string[] {
  return Array.isArray(found)
    ? found.filter((each): each is string => typeof each === 'string').slice(0, mostNames)
    : []
}

function read(store: KeyValues | null): Kept {
  try {
    const found: unknown = JSON.parse(store?.getItem(key) ?? 'null')
    if (typeof found !== 'object' || found === null) return nothing
    const { names, party, kits, leads } = found as Partial<Record<keyof Kept, unknown>>
    const sound = <T>(list: unknown, parse: (one: unknown) => { success: boolean; data?: T }): readonly T[] =>
      (Array.isArray(list) ? list : []).flatMap((one) => {
        const checked = parse(one)
        return checked.success ? [checked.data as T] : []
      })
    return {
      names: texts(names),
      party: texts(party),
      kits: sound<Kit>(kits, (one) => kitSchema.safeParse(one)),
      leads: sound<Lead>(leads, (one) => leadSchema.safeParse(one)),
    }
  } catch {
    return nothing
  }
}

/**
 * Who usually measures with this device, and with what: suggested when a visit is opened. It stays on the device; a site
 * gets of it only what a visit says.
 */
export class Usual {
  readonly #store: KeyValues | null
  #kept = $state.raw<Kept>(nothing)

  constructor(store: KeyValues | null) {
    this.#store = store
    this.#kept = read(store)
  }

  /** All names that were used here, the latest first. */
  get names(): readonly string[] {
    return this.#kept.names
  }

  /** Who measured last. */
  get party(): readonly string[] {
    return this.#kept.party
  }

  /** Instruments used here, the latest first, as they were last. */
  get kits(): readonly Kit[] {
    return this.#kept.kits
  }

  get leads(): readonly Lead[] {
    return this.#kept.leads
  }

  /** A visit was opened or changed here: what it says is suggested next time. */
  keep({ party, kits, leads }: Omit<Kept, 'names'>): void {
    const { names, kits: knownKits, leads: knownLeads } = this.#kept
    const latest = <T extends { readonly id: string }>(said: readonly T[], known: readonly T[]) =>
      [...said, ...known.filter(({ id }) => !said.some((one) => one.id === id))].slice(0, mostSets)
    this.#kept = {
      names: [...party, ...names.filter((name) => !party.includes(name))].slice(0, mostNames),
      party,
      kits: latest(kits, knownKits),
      leads: latest(leads, knownLeads),
    }
    try {
      this.#store?.setItem(key, JSON.stringify(this.#kept))
    } catch {
      // a full or blocked store: the suggestions hold until the page is closed
    }
  }
}
