import { nothingKept, soundFault, type KeptFault } from './keptFault.ts'
import type { KeyValues } from './preferences.svelte.ts'

const key = 'groundweave-faults'
/** Sites whose faults are kept; the one changed longest ago is let go first. */
const mostSites = 30

interface Row {
  readonly site: string
  readonly fault: unknown
}

/** Faults by site, on this device alone: no part of a site, of its undo or of its files. */
export class FaultShelf {
  readonly #store: KeyValues | null

  constructor(store: KeyValues | null) {
    this.#store = store
  }

  /** What was kept of a site's fault; null where nothing was, or nothing that can be read. */
  get(site: string): KeptFault | null {
    return soundFault(this.#rows().find((row) => row.site === site)?.fault)
  }

  /** Keeps the fault of a site; one that is as it began is forgotten. Where the device takes nothing it is not kept. */
  put(site: string, fault: KeptFault): void {
    const others = this.#rows().filter((row) => row.site !== site)
    const isNothing = JSON.stringify(fault) === JSON.stringify(nothingKept)
    const rows = isNothing ? others : [{ site, fault }, ...others].slice(0, mostSites)
    try {
      this.#store?.setItem(key, JSON.stringify(rows))
    } catch {
      // full or blocked: the fault lives for the page
    }
  }

  #rows(): readonly Row[] {
    try {
      const found: unknown = JSON.parse(this.#store?.getItem(key) ?? '[]')
      return (Array.isArray(found) ? found : []).filter(
        (row: unknown): row is Row =>
          typeof row === 'object' && row !== null && 'site' in row && typeof row.site === 'string',
      )
    } catch {
      return []
    }
  }
}
