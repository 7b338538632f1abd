import { ok, type Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import { withDrawingOf } from '../model/record/joinRecords.ts'
import { mergeSites } from '../model/record/mergeSites.ts'
import type { Site } from '../model/schema/site.ts'
import type { EarlierVersion } from '../storage/storedSite.ts'
import { backLabel, copyName } from '../text/joinText.ts'
import type { Identity } from './identity.ts'
import type { Library } from './library.svelte.ts'
import type { Session } from './session.svelte.ts'

/** Earlier versions of the open site: to look at as a copy, or to go back to with the drawing alone. */
export class SiteHistory {
  readonly #session: Session
  readonly #library: Library
  readonly #identity: Identity
  #versions = $state.raw<readonly EarlierVersion[]>([])

  constructor(session: Session, library: Library, identity: Identity) {
    this.#session = session
    this.#library = library
    this.#identity = identity
  }

  get versions(): readonly EarlierVersion[] {
    return this.#versions
  }

  async refresh(): Promise<void> {
    const id = this.#session.site?.id
    const found = id === undefined ? null : await this.#library.versions?.list(id)
    if (this.#session.site?.id !== id) return
    this.#versions = found?.ok ? found.value : []
  }

  /**
   * Takes the drawing of an earlier version as a step that can be undone. The record stays and takes in what that version
   * had beside it. What is here now is kept as a version first. False where it could not be done; the library says why.
   */
  async goBack(version: EarlierVersion): Promise<boolean> {
    await this.#library.keepPoint('back')
    const loaded = await this.#load(version)
    const { site } = this.#session
    if (!loaded || !site) return false
    const next = backTo(site, loaded)
    if (!next.ok) return this.#tell([next.error])
    this.#session.commit(() => next.value, backLabel(version.savedAt))
    await this.#library.saveNow()
    await this.refresh()
    return true
  }

  /** Opens an earlier version as a site of its own. */
  async openCopy(version: EarlierVersion): Promise<boolean> {
    const loaded = await this.#load(version)
    if (!loaded) return false
    const id = this.#identity.newId()
    await this.#library.adopt({ ...loaded, id, name: copyName(loaded.name, version.savedAt) })
    return true
  }

  async #load(version: EarlierVersion): Promise<Site | null> {
    const id = this.#session.site?.id
    const { versions } = this.#library
    if (id === undefined || !versions) return null
    const loaded = await versions.load(id, version.key)
    if (!loaded.ok) this.#tell(loaded.error)
    return loaded.ok && this.#session.site?.id === id ? loaded.value : null
  }

  #tell(problems: readonly Problem[]): false {
    this.#library.tell(problems)
    return false
  }
}

/** The union of both records with the earlier drawing. */
function backTo(site: Site, earlier: Site): Result<Site, Problem> {
  const merged = mergeSites(site, earlier)
  if (!merged.ok) return merged
  const taken = withDrawingOf(merged.value.site, earlier, site.drawing.revision)
  if (!taken.ok) return taken
  return taken.value.record.length < site.record.length
    ? { ok: false, error: problem('reference.conflict', { id: site.id }) }
    : ok(taken.value)
}
