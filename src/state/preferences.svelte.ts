export const themes = ['system', 'light', 'dark', 'sunlight'] as const
export type Theme = (typeof themes)[number]
export const hands = ['right', 'left'] as const
export type Hand = (typeof hands)[number]
export const workspaces = ['draw', 'plan', 'measure', 'locate', 'fault'] as const
export type Workspace = (typeof workspaces)[number]

/** Where preferences are kept: a browser's local storage, or nothing where it is blocked. */
export interface KeyValues {
  getItem(key: string): string | null
  setItem(key: string, value: string): void
}

const key = 'groundweave-preferences'

interface Kept {
  readonly theme: Theme
  readonly workspace: Workspace
  readonly storySeen: boolean
  readonly lastSite: string | null
  /** The hand that holds the device and types. */
  readonly hand: Hand
}

const first: Kept = { theme: 'system', workspace: 'locate', storySeen: false, lastSite: null, hand: 'right' }

function read(store: KeyValues | null): Kept {
  try {
    const found: unknown = JSON.parse(store?.getItem(key) ?? 'null')
    if (typeof found !== 'object' || found === null) return first
    const { theme, workspace, storySeen, lastSite, hand } = found as Partial<Record<keyof Kept, unknown>>
    return {
      theme: themes.find((known) => known === theme) ?? first.theme,
      workspace: workspaces.find((known) => known === workspace) ?? first.workspace,
      storySeen: storySeen === true,
      lastSite: typeof lastSite === 'string' ? lastSite : null,
      hand: hands.find((known) => known === hand) ?? first.hand,
    }
  } catch {
    return first
  }
}

/** What one person likes on one device; losing it loses no work. */
export class Preferences {
  readonly #store: KeyValues | null
  #kept = $state.raw<Kept>(first)

  constructor(store: KeyValues | null) {
    this.#store = store
    this.#kept = read(store)
  }

  get theme(): Theme {
    return this.#kept.theme
  }

  set theme(theme: Theme) {
    this.#keep({ theme })
  }

  get workspace(): Workspace {
    return this.#kept.workspace
  }

  set workspace(workspace: Workspace) {
    this.#keep({ workspace })
  }

  get storySeen(): boolean {
    return this.#kept.storySeen
  }

  set storySeen(storySeen: boolean) {
    this.#keep({ storySeen })
  }

  get lastSite(): string | null {
    return this.#kept.lastSite
  }

  set lastSite(lastSite: string | null) {
    this.#keep({ lastSite })
  }

  get hand(): Hand {
    return this.#kept.hand
  }

  set hand(hand: Hand) {
    this.#keep({ hand })
  }

  #keep(change: Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...change }
    try {
      this.#store?.setItem(key, JSON.stringify(this.#kept))
    } catch {
      // a full or blocked store: the choice holds until the page is closed
    }
  }
}
