import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { siteFileBytes } from '../files/saveSite.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { rowWithVersions, versionOf, withVersions, type NextRow } from './generations.ts'
import type { Bytes, Stores } from './siteRows.ts'
import { getRow, getRows } from './siteRows.ts'
import { localInstant, type StoreWorld } from './storageEnvironment.ts'
import { storageProblem } from './storageProblem.ts'
import { summaryOf, type EarlierVersion, type WhyKept } from './storedSite.ts'
import { inTransaction, resultOf, siteStoreNames } from './transactions.ts'
import { thinVersions, withoutTimed } from './versions.ts'

/**
 * Earlier versions of the sites on this device. `SiteStore.save` leaves them as time goes on; before something larger is
 * done one is kept on purpose. All of a site's versions go with it to the bin and come back with it.
 */
export class VersionStore {
  readonly #database: IDBDatabase
  readonly #world: StoreWorld

  constructor(database: IDBDatabase, world: StoreWorld) {
    this.#database = database
    this.#world = world
  }

  /** The newest first; the copy before the newest save is one of them. Empty for a site that is not kept. */
  list(id: string): Promise<Result<readonly EarlierVersion[], Problem>> {
    return this.#attempt('read', async (stores) => {
      const row = await getRow(stores, id)
      if (!row) return ok([])
      const passed = row.copies.slice(1).map((copy) => versionOf(copy, 'time'))
      const all = withVersions(row.versions ?? [], passed).filter(({ key }) => key !== row.copies[0].key)
      return ok([...all].sort((a, b) => Date.parse(b.savedAt) - Date.parse(a.savedAt)))
    })
  }

  /** One version whole, its checksum held against its text. */
  async load(id: string, key: string): Promise<Result<Site, readonly Problem[]>> {
    const found = await this.#attempt('read', async (stores) => {
      const row = await getRow(stores, id)
      const copy = [...(row?.versions ?? []), ...(row?.copies ?? [])].find((one) => one.key === key)
      const text = await resultOf(stores('texts').get(key) as IDBRequest<Bytes | undefined>)
      return row && copy && text ? ok({ copy, text, row }) : fail(problem('storage.notThere', {}))
    })
    if (!found.ok) return fail([found.error])
    const { copy, text, row } = found.value
    if ((await this.#world.sha256(text)) !== copy.sha256) {
      return fail([problem('storage.damaged', { name: row.name, savedAt: copy.savedAt, olderSavedAt: null })])
    }
    return openSite(text, row.name)
  }

  /** Keeps what was last saved of a site, before something larger is done to it; nothing where it is not kept. */
  keepNewest(id: string, why: WhyKept): Promise<Result<null, Problem>> {
    return this.#attempt('write', async (stores) => {
      const row = await getRow(stores, id)
      if (row) putRow(stores, this.#withAdded(row, versionOf(row.copies[0], why)))
      return ok(null)
    })
  }

  /** Keeps a site that came from elsewhere as a version of the one of the same id. */
  async keepOther(site: Site, why: WhyKept): Promise<Result<null, Problem>> {
    const content = siteFileBytes(site)
    if (!content.ok) return content
    const text = content.value
    const { readings, rows } = summaryOf(site)
    const version: EarlierVersion = {
      key: this.#world.newId(),
      generation: 0,
      savedAt: localInstant(this.#world.nowMs()),
      bytes: text.byteLength,
      sha256: await this.#world.sha256(text),
      counts: { readings, rows },
      why,
    }
    return this.#attempt('write', async (stores) => {
      const row = await getRow(stores, site.id)
      if (!row) return fail(problem('storage.notThere', {}))
      stores('texts').put(text, version.key)
      putRow(stores, this.#withAdded(row, version))
      return ok(null)
    })
  }

  /** Drops the versions of all sites that were kept only because time went on. False where there were none. */
  async makeRoom(): Promise<boolean> {
    const made = await this.#attempt('write', async (stores) => {
      const rows = (await getRows(stores)).filter(({ versions = [] }) =>
        versions.some(({ why }) => why === 'time'),
      )
      for (const row of rows) putRow(stores, rowWithVersions(row, withoutTimed(row.versions ?? [])))
      return ok(rows.length > 0)
    })
    return made.ok && made.value
  }

  #withAdded(row: Parameters<typeof rowWithVersions>[0], version: EarlierVersion): NextRow {
    const others = (row.versions ?? []).filter(({ key }) => key !== version.key)
    return rowWithVersions(row, thinVersions([version, ...others], this.#world.nowMs()))
  }

  async #attempt<T>(
    doing: 'read' | 'write',
    work: (stores: Stores) => Promise<Result<T, Problem>>,
  ): Promise<Result<T, Problem>> {
    const mode = doing === 'read' ? 'readonly' : 'readwrite'
    try {
      return await inTransaction(this.#database, siteStoreNames, mode, work)
    } catch (error) {
      return fail(storageProblem(error, { doing, name: null, bytes: 0 }, await this.#world.freeBytes()))
    }
  }
}

function putRow(stores: Stores, { row, dropped }: NextRow): void {
  stores('sites').put(row)
  for (const key of dropped) stores('texts').delete(key)
}
