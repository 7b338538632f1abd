import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { siteFileBytes } from '../files/saveSite.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { recoveredName } from '../text/storageText.ts'
import { DraftStore } from './draftStore.ts'
import { isExpired, keptUntilMs, nextRow } from './generations.ts'
import { PhotoStore } from './photoStore.ts'
import type { Bytes, RowAndTexts, Stores } from './siteRows.ts'
import { eraseBinned, getBin, getBinned, getRow, getRows, withTexts } from './siteRows.ts'
import { SecondCopies } from './secondCopies.ts'
import { localInstant, type StoreWorld } from './storageEnvironment.ts'
import { storageProblem, type Attempt } from './storageProblem.ts'
import type { BinnedSite, BinRow, Copy, SiteRow, StoredSite } from './storedSite.ts'
import { listed, summaryOf } from './storedSite.ts'
import { inTransaction, siteStoreNames } from './transactions.ts'
import { VersionStore } from './versionStore.ts'

export interface LoadedSite {
  readonly site: Site
  readonly savedAt: string
  /** What the user has to know: that the newest copy was damaged and this is the one before. */
  readonly notes: readonly Problem[]
}

export interface SavedReceipt {
  readonly generation: number
  readonly savedAt: string
  readonly bytes: number
}

interface Restored {
  readonly id: string
  /** What is to be kept beside the site that has this id now. */
  readonly blocked: RowAndTexts | null
}

const reading: Attempt = { doing: 'read', name: null, bytes: 0 }
const writing: Attempt = { doing: 'write', name: null, bytes: 0 }

/**
 * The sites that are kept on this device, each as the text of a site file with its SHA-256, in two
 * generations. A save resolves only when it is on the disk. It never writes over a copy that this store has
 * neither read nor written: what it was given is then kept as a site of its own beside the other.
 */
export class SiteStore {
  /** Photos that entries of the record name. */
  readonly photos: PhotoStore
  /** What is being typed, by site. */
  readonly drafts: DraftStore
  /** What one can go back to. */
  readonly versions: VersionStore
  /** Names of the sites that were brought back from second copies when the store was opened. */
  recovered: readonly string[] = []
  readonly #database: IDBDatabase
  readonly #world: StoreWorld
  readonly #copies: SecondCopies
  /** The newest copy of each site, as it was when last read or written here. */
  readonly #known = new Map<string, Copy>()
  /** Where saves of a site go after a conflict, until the site is loaded again. */
  readonly #diverted = new Map<string, { readonly id: string; readonly conflict: Problem }>()
  /** Keys of copies that were found damaged. */
  readonly #damaged = new Set<string>()
  #writes: Promise<unknown> = Promise.resolve()

  constructor(database: IDBDatabase, world: StoreWorld) {
    this.#database = database
    this.#world = world
    this.#copies = new SecondCopies(world.copyFiles(world.databaseName), world.sha256)
    this.photos = new PhotoStore(database, world, this.#copies)
    this.drafts = new DraftStore(database)
    this.versions = new VersionStore(database, world)
  }

  close(): void {
    this.#database.close()
  }

  /** All sites, the last saved first; no site is loaded for it. */
  list(): Promise<Result<readonly StoredSite[], Problem>> {
    return this.#read(async (stores) => {
      const rows = await getRows(stores)
      return ok(rows.map(listed).sort((a, b) => Date.parse(b.savedAt) - Date.parse(a.savedAt)))
    })
  }

  /**
   * Opens the newest copy whose checksum holds and that is a site file; an older one comes with a note. A
   * copy of a newer file version is refused, never passed over for an older one.
   */
  async load(id: string): Promise<Result<LoadedSite, readonly Problem[]>> {
    const found = await this.#read(async (stores) => {
      const row = await getRow(stores, id)
      return row ? ok(await withTexts(stores, row)) : fail(problem('storage.notThere', {}))
    })
    if (!found.ok) return fail([found.error])
    const opened = await this.#openNewest(found.value)
    if (opened.ok) {
      this.#known.set(id, found.value.row.copies[0])
      this.#diverted.delete(id)
    }
    return opened
  }

  /**
   * Keeps a site as its next generation. Fails with `storage.conflict` where the newest kept copy is neither
   * the one that was last read or written here nor of the same content; the site is kept all the same, as a
   * copy with an id of its own, and further saves go to that copy until the site is loaded again.
   */
  save(site: Site): Promise<Result<SavedReceipt, Problem>> {
    return this.#inTurn(async () => {
      const diverted = this.#diverted.get(site.id)
      if (!diverted) return this.#saveNext(site)
      const kept = await this.#saveBeside(site, diverted.id)
      return kept.ok ? fail(diverted.conflict) : kept
    })
  }

  /** Moves a site to the bin, where it is kept for 30 days. */
  async remove(id: string): Promise<Result<null, Problem>> {
    const removed = await this.#write(async (stores) => {
      const row = await getRow(stores, id)
      if (!row) return fail(problem('storage.notThere', {}))
      const binned: BinRow = { key: this.#world.newId(), binnedAtMs: this.#world.nowMs(), site: row }
      stores('bin').put(binned)
      stores('sites').delete(id)
      return ok(null)
    })
    if (removed.ok) {
      this.#known.delete(id)
      this.#diverted.delete(id)
    }
    return removed
  }

  /** What lies in the bin, the last removed first. */
  listBin(): Promise<Result<readonly BinnedSite[], Problem>> {
    return this.#read(async (stores) => {
      const rows = (await getBin(stores)).sort((a, b) => b.binnedAtMs - a.binnedAtMs)
      return ok(
        rows.map((binned) => ({
          ...listed(binned.site),
          key: binned.key,
          binnedAt: localInstant(binned.binnedAtMs),
          keptUntil: localInstant(keptUntilMs(binned)),
        })),
      )
    })
  }

  /**
   * Takes a site out of the bin and gives its id. Where a site with that id has come to be kept meanwhile,
   * the one from the bin is kept beside it, as after a conflict.
   */
  async restore(key: string): Promise<Result<string, Problem>> {
    const found = await this.#write(async (stores): Promise<Result<Restored, Problem>> => {
      const binned = await getBinned(stores, key)
      if (!binned) return fail(problem('storage.notThere', {}))
      const { id } = binned.site
      if (await getRow(stores, id)) return ok({ id, blocked: await withTexts(stores, binned.site) })
      stores('sites').put(binned.site)
      stores('bin').delete(key)
      return ok({ id, blocked: null })
    })
    if (!found.ok) return found
    if (!found.value.blocked) return ok(found.value.id)
    const opened = await this.#openNewest(found.value.blocked)
    if (!opened.ok) return fail(opened.error[0])
    const id = this.#world.newId()
    const kept = await this.#inTurn(() => this.#saveBeside(opened.value.site, id))
    if (!kept.ok) return kept
    const erased = await this.erase(key)
    return erased.ok ? ok(id) : erased
  }

  /** Removes a site of the bin for good, with its texts. */
  erase(key: string): Promise<Result<null, Problem>> {
    return this.#eraseThose(({ key: found }) => found === key)
  }

  /** Removes for good what has been in the bin for 30 days; done whenever the store is opened. */
  purge(): Promise<Result<null, Problem>> {
    return this.#eraseThose((binned) => isExpired(binned, this.#world.nowMs()))
  }

  /**
   * Brings back what the database has lost and a second copy still has: sites that are neither kept nor in the bin,
   * and newer states of those that are. Gives their names; done whenever the store is opened.
   */
  async recover(): Promise<Result<readonly string[], Problem>> {
    const kept = await this.#read(async (stores) =>
      ok([...(await getRows(stores)), ...(await getBin(stores)).map(({ site }) => site)]),
    )
    if (!kept.ok) return kept
    const known = (id: string) =>
      Math.max(-1, ...kept.value.filter((row) => row.id === id).map(({ generation }) => generation))
    const copies = await this.#copies.newerSites(known)
    const names: string[] = []
    for (const { id, text, generation } of copies) {
      const opened = openSite(text, id)
      if (!opened.ok || opened.value.id !== id) continue
      // another tab may have saved meanwhile: then nothing was lost
      const isLost = (newest: Copy) => newest.generation < generation
      const put = await this.#inTurn(() => this.#put(opened.value, null, isLost, generation))
      if (!put.ok && put.error.code === 'storage.conflict') continue
      if (!put.ok) return put
      names.push(opened.value.name)
    }
    return ok(names)
  }

  async #eraseThose(isMeant: (binned: BinRow) => boolean): Promise<Result<null, Problem>> {
    const erased = await this.#write(async (stores) => {
      const those = (await getBin(stores)).filter(isMeant)
      for (const binned of those) eraseBinned(stores, binned)
      const kept = new Set((await getRows(stores)).map(({ id }) => id))
      return ok(those.map(({ site }) => site.id).filter((id) => !kept.has(id)))
    })
    if (!erased.ok) return erased
    for (const id of erased.value) await this.#copies.removeSite(id)
    return ok(null)
  }

  /** The damaged copies of a site, as they are: a person may still read something in them. */
  damagedCopies(id: string): Promise<Result<readonly Bytes[], Problem>> {
    return this.#read(async (stores) => {
      const row = await getRow(stores, id)
      if (!row) return fail(problem('storage.notThere', {}))
      const { texts } = await withTexts(stores, row)
      const damaged = [...row.copies.filter(({ key }) => this.#damaged.has(key)), ...row.setAside]
      return ok(damaged.flatMap(({ key }) => texts.get(key) ?? []))
    })
  }

  async #openNewest({ row, texts }: RowAndTexts): Promise<Result<LoadedSite, readonly Problem[]>> {
    const { name, savedAt } = row
    const reasons: Problem[] = []
    for (const copy of row.copies) {
      const text = await this.#soundText(row.id, copy, texts.get(copy.key))
      const opened = text ? openSite(text, name) : fail([])
      if (opened.ok) {
        const note = problem('storage.damaged', { name, savedAt, olderSavedAt: copy.savedAt })
        const notes = copy === row.copies[0] ? [] : [note]
        return ok({ site: opened.value, savedAt: copy.savedAt, notes })
      }
      if (opened.error.some(({ code }) => code === 'file.newerVersion')) return opened
      reasons.push(...opened.error)
      this.#damaged.add(copy.key)
    }
    return fail([problem('storage.damaged', { name, savedAt, olderSavedAt: null }), ...reasons])
  }

  /** The text of a copy or of its second copy, whichever has its checksum. */
  async #soundText(id: string, copy: Copy, text: Bytes | undefined): Promise<Bytes | null> {
    if (text && (await this.#world.sha256(text)) === copy.sha256) return text
    this.#damaged.add(copy.key)
    return this.#copies.site(id, copy.generation, copy.sha256)
  }

  async #saveNext(site: Site): Promise<Result<SavedReceipt, Problem>> {
    const known = this.#known.get(site.id)?.key
    const kept = await this.#put(site, null, (newest, own) => {
      return newest.key === known || newest.sha256 === own.sha256
    })
    if (kept.ok || kept.error.code !== 'storage.conflict') return kept
    const id = this.#world.newId()
    const beside = await this.#saveBeside(site, id)
    if (!beside.ok) return beside
    this.#diverted.set(site.id, { id, conflict: kept.error })
    return kept
  }

  // Nobody else knows the id of this copy, so there is nothing to write over.
  #saveBeside(site: Site, id: string): Promise<Result<SavedReceipt, Problem>> {
    return this.#put({ ...site, id, name: recoveredName(site.name) }, site.id, () => true)
  }

  // What is new goes before what one could go back to.
  async #put(
    site: Site,
    recoveredFrom: string | null,
    mayFollow: (newest: Copy, own: Copy) => boolean,
    after = 0,
  ): Promise<Result<SavedReceipt, Problem>> {
    const put = await this.#putOnce(site, recoveredFrom, mayFollow, after)
    if (put.ok || put.error.code !== 'storage.full') return put
    const hasRoom = await this.versions.makeRoom()
    return hasRoom ? this.#putOnce(site, recoveredFrom, mayFollow, after) : put
  }

  async #putOnce(
    site: Site,
    recoveredFrom: string | null,
    mayFollow: (newest: Copy, own: Copy) => boolean,
    after: number,
  ): Promise<Result<SavedReceipt, Problem>> {
    const content = siteFileBytes(site)
    if (!content.ok) return content
    const text = content.value
    const bytes = text.byteLength
    return this.#attempt({ doing: 'write', name: site.name, bytes }, async () => {
      const key = this.#world.newId()
      const savedAt = localInstant(this.#world.nowMs())
      const own = { key, savedAt, bytes, sha256: await this.#world.sha256(text), generation: 1 }
      const saved = await this.#transact('readwrite', async (stores) => {
        const row = await getRow(stores, site.id)
        if (row && !mayFollow(row.copies[0], own)) return fail(conflict(row, site))
        const known = this.#known.get(site.id)?.generation ?? 0
        const generation = Math.max(row?.generation ?? 0, known, after) + 1
        const { readings, rows, ...named } = summaryOf(site)
        const counts = { readings, rows }
        const from = recoveredFrom ?? row?.recoveredFrom ?? null
        const summary = { ...named, ...counts, recoveredFrom: from }
        const next = nextRow(row, summary, { ...own, generation, counts }, this.#damaged)
        stores('texts').put(text, key)
        for (const dropped of next.dropped) stores('texts').delete(dropped)
        stores('sites').put(next.row)
        return ok(next.row.copies[0])
      })
      if (!saved.ok) return saved
      this.#known.set(site.id, saved.value)
      await this.#copies.putSite(site.id, text, saved.value.generation)
      return ok({ generation: saved.value.generation, savedAt, bytes })
    })
  }

  #read<T>(work: (stores: Stores) => Promise<Result<T, Problem>>): Promise<Result<T, Problem>> {
    return this.#attempt(reading, () => this.#transact('readonly', work))
  }

  #write<T>(work: (stores: Stores) => Promise<Result<T, Problem>>): Promise<Result<T, Problem>> {
    return this.#inTurn(() => this.#attempt(writing, () => this.#transact('readwrite', work)))
  }

  #transact<T>(mode: 'readonly' | 'readwrite', work: (stores: Stores) => Promise<T>): Promise<T> {
    return inTransaction(this.#database, siteStoreNames, mode, work)
  }

  // Writes wait for each other: each has to see what the one before it made known.
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#writes.then(work)
    this.#writes = turn.catch(() => undefined)
    return turn
  }

  async #attempt<T>(attempt: Attempt, work: () => Promise<Result<T, Problem>>): Promise<Result<T, Problem>> {
    try {
      return await work()
    } catch (error) {
      return fail(storageProblem(error, attempt, await this.#world.freeBytes()))
    }
  }
}

function conflict({ name, savedAt }: SiteRow, site: Site): Problem {
  return problem('storage.conflict', { name, savedAt, keptAs: recoveredName(site.name) })
}
