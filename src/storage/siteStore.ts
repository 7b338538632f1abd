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
import { localInstant, type StoreWorld } from './storageEnvironment.ts'
import { storageProblem, type Attempt } from './storageProblem.ts'
import type { BinnedSite, BinRow, Copy, SiteRow, StoredSite } from './storedSite.ts'
import { listed, summaryOf } from './storedSite.ts'
import { inTransaction, siteStoreNames } from './transactions.ts'

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
  readonly #database: IDBDatabase
  readonly #world: StoreWorld
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
    this.photos = new PhotoStore(database, world)
    this.drafts = new DraftStore(database)
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
    return this.#write(async (stores) => {
      const binned = await getBinned(stores, key)
      if (binned) eraseBinned(stores, binned)
      return ok(null)
    })
  }

  /** Removes for good what has been in the bin for 30 days; done whenever the store is opened. */
  purge(): Promise<Result<null, Problem>> {
    return this.#write(async (stores) => {
      const expired = (await getBin(stores)).filter((binned) => isExpired(binned, this.#world.nowMs()))
      for (const binned of expired) eraseBinned(stores, binned)
      return ok(null)
    })
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
      const text = texts.get(copy.key)
      const isIntact = text !== undefined && (await this.#world.sha256(text)) === copy.sha256
      const opened = isIntact ? openSite(text, name) : fail([])
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

  async #put(
    site: Site,
    recoveredFrom: string | null,
    mayFollow: (newest: Copy, own: Copy) => boolean,
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
        const generation = Math.max(row?.generation ?? 0, this.#known.get(site.id)?.generation ?? 0) + 1
        const summary = { ...summaryOf(site), recoveredFrom: recoveredFrom ?? row?.recoveredFrom ?? null }
        const next = nextRow(row, summary, { ...own, generation }, this.#damaged)
        stores('texts').put(text, key)
        for (const dropped of next.dropped) stores('texts').delete(dropped)
        stores('sites').put(next.row)
        return ok(next.row.copies[0])
      })
      if (!saved.ok) return saved
      this.#known.set(site.id, saved.value)
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
