import type { Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { claimSite, type SiteClaim } from '../storage/siteLock.ts'
import type { DraftStore } from '../storage/draftStore.ts'
import type { PhotoStore } from '../storage/photoStore.ts'
import type { SiteStore } from '../storage/siteStore.ts'
import { askToPersist, type Persistence } from '../storage/storageEnvironment.ts'
import type { VersionStore } from '../storage/versionStore.ts'
import type { BinnedSite, StoredSite, WhyKept } from '../storage/storedSite.ts'
import type { Preferences } from './preferences.svelte.ts'
import type { Session } from './session.svelte.ts'

/**
 * The sites on this device: the list, opening one, and keeping the one that is open saved. A save is under
 * way at most once; what changed meanwhile is saved after it. "Saved" is only said of what is on the disk.
 */
export class Library {
  readonly #session: Session
  readonly #preferences: Preferences
  #store = $state.raw<SiteStore | null>(null)
  #claim: SiteClaim | null = null
  #sites = $state.raw<readonly StoredSite[]>([])
  #bin = $state.raw<readonly BinnedSite[]>([])
  /** What the user has to know about storage as a whole: blocked, damaged copies, conflicts. */
  #problems = $state.raw<readonly Problem[]>([])
  /** Whether the browser has promised not to clear what is kept; null until it was asked, at the first entry. */
  #persistence = $state<Persistence | null>(null)
  /** The site as it was last written; null before the first save. */
  #written: Site | null = null
  /** The save that is under way. */
  #saving: Promise<void> | null = null
  #isSaving = false

  constructor(session: Session, preferences: Preferences) {
    this.#session = session
    this.#preferences = preferences
  }

  get sites(): readonly StoredSite[] {
    return this.#sites
  }

  get bin(): readonly BinnedSite[] {
    return this.#bin
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  get persistence(): Persistence | null {
    return this.#persistence
  }

  get isStored(): boolean {
    return this.#store !== null
  }

  /** Photos of the record; null where nothing is kept on this device. */
  get photos(): PhotoStore | null {
    return this.#store?.photos ?? null
  }

  /** What is being typed; null where nothing is kept on this device. */
  get drafts(): DraftStore | null {
    return this.#store?.drafts ?? null
  }

  /** Earlier versions of sites; null where nothing is kept on this device. */
  get versions(): VersionStore | null {
    return this.#store?.versions ?? null
  }

  dismissProblems(): void {
    this.#problems = []
  }

  tell(problems: readonly Problem[]): void {
    this.#problems = problems
  }

  /** Takes the store into use, or says why there is none: the program then works, but keeps nothing. */
  async begin(opened: Result<SiteStore, Problem>): Promise<void> {
    if (!opened.ok) {
      this.#problems = [opened.error]
      return
    }
    this.#store = opened.value
    const { recovered } = opened.value
    if (recovered.length > 0) this.#problems = [problem('storage.recovered', { names: recovered })]
    await this.refreshList()
  }

  async refreshList(): Promise<void> {
    if (!this.#store) return
    const [sites, bin] = await Promise.all([this.#store.list(), this.#store.listBin()])
    if (sites.ok) this.#sites = sites.value
    else this.#problems = [sites.error]
    if (bin.ok) this.#bin = bin.value
  }

  /** Opens a kept site. What is open is saved first; it stays open when the other cannot be read. */
  async open(id: string): Promise<boolean> {
    if (!this.#store) return false
    await this.saveNow()
    const loaded = await this.#store.load(id)
    if (!loaded.ok) {
      this.#problems = loaded.error
      return false
    }
    const recovered = this.#problems.filter(({ code }) => code === 'storage.recovered')
    this.#problems = [...recovered, ...loaded.value.notes]
    await this.#show(loaded.value.site, true)
    return true
  }

  /**
   * Takes a site from a file or a demo into the library and opens it. A site of the same id that is kept
   * already is not written over: the store keeps the newcomer beside it.
   */
  async adopt(site: Site): Promise<void> {
    await this.saveNow()
    await this.#show(site, false)
    await this.saveNow()
  }

  /** Keeps the open site as it is now among its earlier versions, before something larger is done to it. */
  async keepPoint(why: WhyKept): Promise<void> {
    const id = this.#session.site?.id
    if (!this.#store || id === undefined || !this.#session.canWrite) return
    await this.saveNow()
    const kept = await this.#store.versions.keepNewest(id, why)
    if (!kept.ok) this.#problems = [kept.error]
  }

  async remove(id: string): Promise<void> {
    if (!this.#store) return
    if (this.#session.site?.id === id) {
      await this.saveNow()
      this.close()
    }
    const removed = await this.#store.remove(id)
    if (!removed.ok) this.#problems = [removed.error]
    await this.refreshList()
  }

  async restore(key: string): Promise<void> {
    const restored = await this.#store?.restore(key)
    if (restored && !restored.ok) this.#problems = [restored.error]
    await this.refreshList()
  }

  close(): void {
    this.#claim?.release()
    this.#claim = null
    this.#session.show(null, 'none')
    this.#preferences.lastSite = null
  }

  /** Takes the open site over from the tab that holds it. */
  async takeOver(): Promise<void> {
    await this.#claim?.takeOver()
    if (this.#claim?.isHeld) await this.#reload('saved')
  }

  /**
   * Called whenever the site has changed: writes it, and again while it goes on changing. Resolves when the site as it
   * then is has been written or could not be.
   */
  saveNow(): Promise<void> {
    if (this.#saving) return this.#saving
    const saving = this.#saveAll()
    if (this.#isSaving) this.#saving = saving
    return saving
  }

  async #saveAll(): Promise<void> {
    this.#isSaving = true
    try {
      for (;;) {
        const { site, canWrite } = this.#session
        if (!this.#store || site === null || !canWrite || site === this.#written) return
        this.#session.saving = 'saving'
        const saved = await this.#store.save(site)
        if (!saved.ok) {
          this.#session.saving = 'failed'
          this.#session.problem = saved.error
          return
        }
        const hasGrown = this.#written !== null && site.record.length > this.#written.record.length
        if (hasGrown && this.#persistence === null) void this.#askToPersist()
        this.#written = site
        this.#session.problem = null
        this.#claim?.tellSaved()
        if (this.#session.site === site) this.#session.saving = 'saved'
        await this.refreshList()
      }
    } finally {
      this.#isSaving = false
      this.#saving = null
    }
  }

  // Asked when there is something to lose: a browser may show the question to the user.
  async #askToPersist(): Promise<void> {
    this.#persistence = 'unknown'
    this.#persistence = await askToPersist()
  }

  async #show(site: Site, isKept: boolean): Promise<void> {
    this.#claim?.release()
    this.#claim = await claimSite(site.id, {
      onHeld: () => void this.#reload('saved'),
      onLost: () => (this.#session.saving = 'readOnly'),
      onSaved: () => {
        if (!this.#claim?.isHeld) void this.#reload('readOnly')
      },
    })
    this.#written = isKept ? site : null
    const isHeld = this.#claim.isHeld
    this.#session.show(site, isHeld ? (isKept ? 'saved' : 'saving') : 'readOnly')
    this.#preferences.lastSite = site.id
  }

  /** Shows the open site as it now is in the store, after another tab wrote it. */
  async #reload(saving: 'saved' | 'readOnly'): Promise<void> {
    const id = this.#session.site?.id
    if (!this.#store || id === undefined) return
    const loaded = await this.#store.load(id)
    if (!loaded.ok || this.#session.site?.id !== id) return
    this.#written = loaded.value.site
    this.#session.show(loaded.value.site, saving)
  }
}
