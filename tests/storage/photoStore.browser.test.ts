import { afterEach, describe, expect, it } from 'vitest'
import { limits } from '../../src/model/limits.ts'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import type { PhotoRow } from '../../src/storage/photoRows.ts'
import type { SiteStore } from '../../src/storage/siteStore.ts'
import { browserStorage } from '../../src/storage/storageEnvironment.ts'
import oldRoof from '../fixtures/v1/roof.json?raw'
import { noted, plainSite } from './storedSites.ts'

let count = 0
let databaseName = ''
const open: SiteStore[] = []

async function store(): Promise<SiteStore> {
  const opened = await openSiteStore(() => undefined, {
    ...browserStorage(),
    copyFiles: () => null,
    databaseName,
  })
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  open.push(opened.value)
  return opened.value
}

async function fresh(): Promise<SiteStore> {
  databaseName = `photos ${++count}`
  return store()
}

/** Begins as JPEG does, and goes on as it likes. */
function photo(seed: number, length = 1000): Uint8Array<ArrayBuffer> {
  const bytes = Uint8Array.from({ length }, (_, k) => (k * seed) % 251)
  bytes.set([0xff, 0xd8, 0xff])
  return bytes
}

async function kept(on: SiteStore, bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const put = await on.photos.put(bytes)
  if (!put.ok) throw new Error(put.error.code)
  return put.value
}

/** A database as it was made before there were photos, with one site of file version 1 in it. */
async function oldDatabase(id: string, text: string): Promise<void> {
  const bytes = new TextEncoder().encode(text)
  const sha256 = await browserStorage().sha256!(bytes)
  const saved = { savedAt: '2031-05-04T08:00:00+00:00', bytes: bytes.byteLength, generation: 1 }
  const request = indexedDB.open(databaseName, 1)
  request.onupgradeneeded = () => {
    const { result } = request
    const row = { id, name: 'North field', readings: 0, rows: 0, recoveredFrom: null, ...saved }
    const sites = result.createObjectStore('sites', { keyPath: 'id' })
    sites.put({ ...row, copies: [{ key: 'a', sha256, ...saved }], setAside: [] })
    result.createObjectStore('bin', { keyPath: 'key' })
    result.createObjectStore('texts').put(bytes, 'a')
  }
  await new Promise((resolve) => (request.onsuccess = resolve))
  request.result.close()
}

afterEach(() => {
  for (const each of open.splice(0)) each.close()
  indexedDB.deleteDatabase(databaseName)
})

describe('a photo', () => {
  it('is there for the next tab under the SHA-256 of its bytes, alone of what lay around it', async () => {
    const around = new Uint8Array(5000)
    around.set(photo(3), 2000)
    const sha256 = await kept(await fresh(), around.subarray(2000, 3000))
    expect(sha256).toBe(await browserStorage().sha256!(photo(3)))
    const got = await (await store()).photos.get(sha256)
    expect(got).toEqual({ ok: true, value: { bytes: photo(3), type: 'image/jpeg' } })
    expect(got.ok && got.value.bytes.buffer.byteLength).toBe(1000)
  })

  it('is told to be kept only after a strictly durable transaction is complete', async () => {
    const { photos } = await fresh()
    const log: string[] = []
    const { transaction } = IDBDatabase.prototype
    IDBDatabase.prototype.transaction = function (...args) {
      const made = transaction.apply(this, args)
      made.addEventListener('complete', () => log.push(`${made.mode} ${made.durability} complete`))
      return made
    }
    try {
      await photos.put(photo(3)).then(() => log.push('told'))
    } finally {
      IDBDatabase.prototype.transaction = transaction
    }
    expect(log).toEqual(['readwrite strict complete', 'told'])
  })

  it('lies there once, however often it is given', async () => {
    const { photos } = await fresh()
    for (const bytes of [photo(3), photo(5, 300), photo(3)]) await photos.put(bytes)
    const list = await photos.list()
    expect(list.ok && list.value.map(({ size, type }) => [size, type]).sort()).toEqual([
      [1000, 'image/jpeg'],
      [300, 'image/jpeg'],
    ])
  })

  it('is refused where it is too long or no photo', async () => {
    const { photos } = await fresh()
    const longest = await photos.put(photo(3, limits.photoBytes))
    const tooLong = await photos.put(photo(3, limits.photoBytes + 1))
    const text = await photos.put(new TextEncoder().encode('no photo at all'))
    expect(longest.ok).toBe(true)
    expect(tooLong).toMatchObject({ ok: false, error: { code: 'photo.tooLarge' } })
    expect(text).toMatchObject({ ok: false, error: { code: 'photo.notAPhoto' } })
  })

  it('that is damaged is told and not shown, and giving it again mends it', async () => {
    const first = await fresh()
    const sha256 = await kept(first, photo(3))
    const request = indexedDB.open(databaseName)
    await new Promise((resolve) => (request.onsuccess = resolve))
    const transaction = request.result.transaction('photos', 'readwrite')
    const row: PhotoRow = { sha256, type: 'image/jpeg', size: 1000, savedAt: '', bytes: photo(4) }
    transaction.objectStore('photos').put(row)
    await new Promise((resolve) => (transaction.oncomplete = resolve))
    request.result.close()
    expect(await first.photos.get(sha256)).toMatchObject({ ok: false, error: { code: 'photo.damaged' } })
    await kept(first, photo(3))
    expect(await first.photos.get(sha256)).toMatchObject({ ok: true, value: { bytes: photo(3) } })
  })

  it('stays while any text that is kept names it, in the bin too, and goes after that', async () => {
    const first = await fresh()
    const sha256 = await kept(first, photo(3))
    await first.save(noted(`see ${sha256}`))
    const inUse = { ok: false, error: { code: 'photo.inUse', facts: { sha256 } } }
    expect(await first.photos.remove(sha256)).toMatchObject(inUse)
    await first.remove(plainSite.id)
    expect(await first.photos.remove(sha256)).toMatchObject(inUse)
    expect(await first.photos.has(sha256)).toEqual({ ok: true, value: true })
    const bin = await first.listBin()
    if (bin.ok) await first.erase(bin.value[0].key)
    expect(await first.photos.remove(sha256)).toEqual({ ok: true, value: null })
    expect(await first.photos.has(sha256)).toEqual({ ok: true, value: false })
    expect(await first.photos.get(sha256)).toMatchObject({ ok: false, error: { code: 'photo.notThere' } })
  })
})

describe('a database from before there were photos', () => {
  it('opens with its sites and takes photos', async () => {
    databaseName = `photos ${++count}`
    const { id } = JSON.parse(oldRoof) as { id: string }
    await oldDatabase(id, oldRoof)
    const opened = await store()
    const loaded = await opened.load(id)
    if (!loaded.ok) throw new Error(loaded.error[0].code)
    expect(loaded.value.site).toMatchObject({ id, name: 'Flat roof, written by hand' })
    expect(loaded.value.site.version).toBeGreaterThan(1)
    expect((await opened.save(noted('after', loaded.value.site))).ok).toBe(true)
    const versions = await opened.versions.list(id)
    const before = versions.ok ? await opened.versions.load(id, versions.value[0].key) : null
    expect(before).toEqual({ ok: true, value: loaded.value.site })
    expect((await opened.photos.put(photo(3))).ok).toBe(true)
  })
})
