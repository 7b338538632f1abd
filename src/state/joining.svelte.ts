import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import { joinParts, type AddedPart } from '../model/record/joinParts.ts'
import { settleConflicts, withDrawingOf } from '../model/record/joinRecords.ts'
import { mergeSites, type MergedSites } from '../model/record/mergeSites.ts'
import type { Site } from '../model/schema/site.ts'
import type { Bytes } from '../storage/siteRows.ts'
import { joinTexts } from '../text/joinText.ts'
import { nextStamp } from './entries.ts'
import type { Identity } from './identity.ts'
import type { Library } from './library.svelte.ts'
import type { Session } from './session.svelte.ts'

/** What is asked before the record of a file joins that of the open site. */
export interface JoinQuestion {
  readonly mine: Site
  readonly theirs: Site
  readonly merged: MergedSites
  /** What the file adds, by device. */
  readonly parts: readonly AddedPart[]
  /** Entries of the file that are here already, in either content. */
  readonly same: number
}

export interface JoinAnswer {
  /** Ids of conflicts of which the file's content counts. */
  readonly second: ReadonlySet<string>
  readonly drawing: 'mine' | 'theirs'
}

/** `opened`: as a site of its own or as the one that was here; `asked`: the question waits; `failed`: it is told why. */
export type Taken = 'opened' | 'nothingNew' | 'asked' | 'failed'

/** Files that come in: a site that is new here is opened, one that is here already is asked about and joined. */
export class Joining {
  readonly #session: Session
  readonly #library: Library
  readonly #identity: Identity
  #question = $state.raw<JoinQuestion | null>(null)

  constructor(session: Session, library: Library, identity: Identity) {
    this.#session = session
    this.#library = library
    this.#identity = identity
  }

  get question(): JoinQuestion | null {
    return this.#question
  }

  /** Photos are kept before the record that names them. */
  async take(theirs: Site, photos: readonly Bytes[] = []): Promise<Taken> {
    for (const photo of photos) {
      const kept = await this.#library.photos?.put(photo)
      if (kept && !kept.ok) return this.#fail(kept.error)
    }
    const isHere = this.#session.site?.id === theirs.id
    if (!isHere && !this.#library.sites.some(({ id }) => id === theirs.id)) {
      await this.#library.adopt(theirs)
      return 'opened'
    }
    if (!isHere && !(await this.#library.open(theirs.id))) return 'failed'
    const { site: mine, canWrite } = this.#session
    if (!mine || !canWrite) return this.#fail(problem('storage.heldElsewhere', {}))
    const merged = mergeSites(mine, theirs)
    if (!merged.ok) return this.#fail(merged.error)
    const { added, conflicts, drawing } = merged.value
    const isSettled = drawing === 'same' || drawing === 'newer'
    if (added === 0 && conflicts.length === 0 && isSettled) return 'nothingNew'
    this.#question = { mine, theirs, merged: merged.value, ...joinParts(mine, theirs) }
    return 'asked'
  }

  leave(): void {
    this.#question = null
  }

  /** Joins as answered; false where it could not be done, and then nothing has changed. */
  async join({ second, drawing }: JoinAnswer): Promise<boolean> {
    const asked = this.#question
    if (!asked) return false
    await this.#library.keepPoint('merge')
    const { site: mine, canWrite } = this.#session
    if (mine?.id !== asked.theirs.id || !canWrite) return this.#end(problem('storage.heldElsewhere', {}))
    const joined = this.#joined(mine, asked, second, drawing)
    if (!joined.ok) return this.#end(joined.error)
    const isOther = asked.merged.drawing === 'diverged' || asked.merged.drawing === 'older'
    if (drawing === 'mine' && isOther) {
      const kept = await this.#library.versions?.keepOther(asked.theirs, 'otherDrawing')
      if (kept && !kept.ok) return this.#end(kept.error)
    }
    this.#question = null
    this.#session.join(joined.value, joinTexts.step)
    await this.#library.saveNow()
    return true
  }

  #joined(mine: Site, { theirs }: JoinQuestion, second: ReadonlySet<string>, drawing: JoinAnswer['drawing']) {
    const merged = mergeSites(mine, theirs)
    if (!merged.ok) return merged
    const stamp = (site: Site) => nextStamp(site, this.#identity)
    const settled = settleConflicts(merged.value.site, merged.value.conflicts, second, stamp)
    if (!settled.ok || drawing === 'mine') return settled
    return withDrawingOf(settled.value, theirs, this.#identity.newId())
  }

  #end(why: Problem): false {
    this.#question = null
    this.#fail(why)
    return false
  }

  #fail(why: Problem): 'failed' {
    this.#library.tell([why])
    return 'failed'
  }
}
