import type { AppState } from '../../state/appState.ts'
import type { OrphanedThing } from '../../text/orphansText.ts'
import { makeChange, whyNot, type Change } from './change.ts'
import { askOrphans } from './orphanedThings.ts'

interface Asked {
  readonly change: Change
  readonly orphans: readonly OrphanedThing[]
  readonly ondone: () => void
}

/**
 * Makes changes that take something out of the drawing. Where readings, looks, plans or findings would lose their
 * place it asks first; `asked` is then what `AskOrphans.svelte` shows.
 */
export class OrphanQuestion {
  readonly #app: AppState
  #asked = $state.raw<Asked | null>(null)

  constructor(app: AppState) {
    this.#app = app
  }

  get asked(): Asked | null {
    return this.#asked
  }

  /** @returns why the change cannot be made, as a sentence; null when it was made or is being asked about */
  make(change: Change, ondone: () => void = () => undefined): string | null {
    const why = whyNot(this.#app.session, change)
    if (why !== null) return why
    const orphans = askOrphans(this.#app.session, change.edit)
    if (orphans === null) this.#do(change, ondone)
    else this.#asked = { change, orphans, ondone }
    return null
  }

  /** Makes the change that was asked about; what is on record stays there. */
  keep(): void {
    const asked = this.#asked
    this.#asked = null
    if (asked) this.#do(asked.change, asked.ondone)
  }

  back(): void {
    this.#asked = null
  }

  #do(change: Change, ondone: () => void): void {
    if (makeChange(this.#app, change) === null) ondone()
  }
}
