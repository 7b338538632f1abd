import { afterEach, describe, expect, it } from 'vitest'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import { cachedCopies, type CopyFiles } from '../../src/storage/secondCopies.ts'
import type { SiteStore } from '../../src/storage/siteStore.ts'
import { browserStorage } from '../../src/storage/storageEnvironment.ts'
import { uuid } from '../model/exampleSite.ts'
import { noted, noteOf, plainSite } from './storedSites.ts'

const databaseName = 'second copies'
const open: SiteStore[] = []

async function store(copyFiles: (name: string) => CopyFiles | null = cachedCopies): Promise<SiteStore> {
  const opened = await openSiteStore(() => undefined, { ...browserStorage(), databaseName, copyFiles })
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  open.push(opened.value)
  return opened.value
}

/** As a browser does that finds the database damaged. */
async function loseDatabase(): Promise<void> {
  for (const each of open.splice(0)) each.close()
  const request = indexedDB.deleteDatabase(databaseName)
  await new Promise((resolve) => (request.onsuccess = resolve))
}

async function noteIn(on: SiteStore, id = plainSite.id): Promise<string> {
  const loaded = await on.load(id)
  return loaded.ok ? noteOf(loaded.value.site) : loaded.error[0].code
}

/** Changes the database as a failing disk might. */
async function behind(work: (stores: (name: string) => IDBObjectStore) => void): Promise<void> {
  const request = indexedDB.open(databaseName)
  await new Promise((resolve) => (request.onsuccess = resolve))
  const transaction = request.result.transaction(['sites', 'texts', 'photos'], 'readwrite')
  work((name) => transaction.objectStore(name))
  await new Promise((resolve) => (transaction.oncomplete = resolve))
  request.result.close()
}

afterEach(async () => {
  await loseDatabase()
  await caches.delete(`${databaseName} second copies`)
})

describe('a database that the browser deleted', () => {
  it('comes back site by site as it was last saved, and says so once', async () => {
    const first = await store()
    for (const note of ['a', 'b', 'c']) await first.save(noted(note))
    await first.save({ ...noted('other'), id: uuid(7), name: 'South field' })
    await loseDatabase()
    const second = await store()
    expect([...second.recovered].sort()).toEqual(['North field', 'South field'])
    expect(await noteIn(second)).toBe('c')
    expect(await noteIn(second, uuid(7))).toBe('other')
    expect((await second.save(noted('d'))).ok).toBe(true)
    expect((await store()).recovered).toEqual([])
    await loseDatabase()
    expect(await noteIn(await store())).toBe('d')
  })

  it('gives its photos back when they are asked for', async () => {
    const bytes = Uint8Array.from([0xff, 0xd8, 0xff, 1, 2, 3])
    const put = await (await store()).photos.put(bytes)
    await loseDatabase()
    const second = await store()
    const sha256 = put.ok ? put.value : ''
    expect(await second.photos.get(sha256)).toMatchObject({ ok: true, value: { bytes } })
    expect(await second.photos.has(sha256)).toEqual({ ok: true, value: true })
  })

  it('that lost only the last saves has them again', async () => {
    const first = await store(() => null)
    await first.save(noted('old'))
    const second = await store()
    await second.load(plainSite.id)
    await second.save(noted('newer'))
    await second.save(noted('newest'))
    await behind((stores) => {
      const row = stores('sites').get(plainSite.id) as IDBRequest<{ copies: unknown[] }>
      row.onsuccess = () =>
        stores('sites').put({ ...row.result, copies: row.result.copies.slice(1), generation: 2 })
    })
    const third = await store()
    expect(third.recovered).toEqual(['North field'])
    expect(await noteIn(third)).toBe('newest')
  })
})

describe('a second copy', () => {
  it('stands in for a damaged newest one, and nothing older is shown', async () => {
    const first = await store()
    await first.save(noted('older'))
    await first.save(noted('newest'))
    await behind((stores) => {
      const rows = stores('sites').get(plainSite.id) as IDBRequest<{ copies: { key: string }[] }>
      rows.onsuccess = () => stores('texts').put(new Uint8Array(3), rows.result.copies[0].key)
    })
    const loaded = await (await store()).load(plainSite.id)
    expect(loaded.ok && noteOf(loaded.value.site)).toBe('newest')
    expect(loaded.ok && loaded.value.notes).toEqual([])
  })

  it('that is damaged itself brings nothing back', async () => {
    await (await store()).save(noted('a'))
    const files = cachedCopies(databaseName)!
    const [name] = await files.names()
    const found = (await files.get(name))!
    await files.put(name, new TextEncoder().encode('torn'), found.facts)
    await loseDatabase()
    expect((await store()).recovered).toEqual([])
  })

  it('of a site that was removed for good is gone, of one in the bin not', async () => {
    const first = await store()
    await first.save(noted('a'))
    await first.remove(plainSite.id)
    expect((await store()).recovered).toEqual([])
    const bin = await first.listBin()
    if (bin.ok) await first.erase(bin.value[0].key)
    await loseDatabase()
    expect((await store()).recovered).toEqual([])
  })

  it('that cannot be written keeps no save from being kept', async () => {
    const broken: CopyFiles = {
      put: () => Promise.reject(new DOMException('', 'QuotaExceededError')),
      get: () => Promise.reject(new Error('no')),
      names: () => Promise.reject(new Error('no')),
      remove: () => Promise.reject(new Error('no')),
    }
    const first = await store(() => broken)
    expect((await first.save(noted('a'))).ok).toBe(true)
    expect(await noteIn(await store(() => broken))).toBe('a')
  })
})
