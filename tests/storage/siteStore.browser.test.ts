import { afterEach, describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import type { Result } from '../../src/base/result.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import type { Problem } from '../../src/model/problem.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { databaseVersion } from '../../src/storage/openDatabase.ts'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import type { SiteStore } from '../../src/storage/siteStore.ts'
import { browserStorage } from '../../src/storage/storageEnvironment.ts'
import type { SiteRow } from '../../src/storage/storedSite.ts'
import { uuid } from '../model/exampleSite.ts'
import { noted, noteOf, plainSite } from './storedSites.ts'

const dayMs = 24 * 3600 * 1000
let count = 0
let databaseName = ''
let nowMs = 0
const open: SiteStore[] = []

function value<T>(result: Result<T, Problem | readonly Problem[]>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value
}

function codeOf(result: Result<unknown, Problem | readonly Problem[]>): string {
  return result.ok
    ? 'none'
    : [result.error]
        .flat()
        .map(({ code }) => code)
        .join()
}

/** A store as each tab has one of its own, all on one database per test. */
async function tab(onClosed = () => undefined): Promise<SiteStore> {
  const world = browserStorage()
  const store = value(
    await openSiteStore(onClosed, { ...world, copyFiles: () => null, databaseName, nowMs: () => nowMs }),
  )
  open.push(store)
  return store
}

async function fresh(): Promise<SiteStore> {
  databaseName = `test ${++count}`
  nowMs = Date.UTC(2031, 4, 4, 8)
  return tab()
}

/** Something done to the database behind the back of every store. */
async function behind<T>(work: (stores: (name: string) => IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const database = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open(databaseName)
    request.onsuccess = () => resolve(request.result)
  })
  const transaction = database.transaction(['sites', 'bin', 'texts'], 'readwrite')
  const request = work((name) => transaction.objectStore(name))
  await new Promise((resolve) => (transaction.oncomplete = resolve))
  database.close()
  return request.result
}

async function rowOf(id: string): Promise<SiteRow> {
  return behind((stores) => stores('sites').get(id) as IDBRequest<SiteRow>)
}

async function overwrite(key: string, text: string): Promise<void> {
  await behind((stores) => stores('texts').put(new TextEncoder().encode(text), key))
}

/** One character of the newest copy changed, as a failing disk might. */
async function damage(site: Site): Promise<void> {
  const { copies } = await rowOf(site.id)
  await overwrite(copies[0].key, saveSite(site).replace('North', 'Morth'))
}

const texts = () => behind((stores) => stores('texts').count())

afterEach(() => {
  for (const store of open.splice(0)) store.close()
  indexedDB.deleteDatabase(databaseName)
})

describe('what is saved', () => {
  it('is there for the next tab, the same to the byte', async () => {
    const site = noted('ünïcode – 東 𝛺')
    const receipt = value(await (await fresh()).save(site))
    const loaded = value(await (await tab()).load(site.id))
    expect(loaded.site).toEqual(site)
    expect(loaded.notes).toEqual([])
    expect(saveSite(loaded.site)).toBe(saveSite(site))
    expect(receipt).toEqual({
      generation: 1,
      savedAt: loaded.savedAt,
      bytes: new TextEncoder().encode(saveSite(site)).byteLength,
    })
  })

  it('is told to be saved only after a strictly durable transaction is complete', async () => {
    const store = await fresh()
    const log: string[] = []
    const { transaction } = IDBDatabase.prototype
    IDBDatabase.prototype.transaction = function (...args) {
      const made = transaction.apply(this, args)
      made.addEventListener('complete', () => log.push(`${made.mode} ${made.durability} complete`))
      return made
    }
    try {
      await store.save(plainSite).then(() => log.push('told'))
    } finally {
      IDBDatabase.prototype.transaction = transaction
    }
    expect(log).toEqual(['readwrite strict complete', 'told'])
  })

  it('is listed, the last saved first, without its text', async () => {
    const store = await fresh()
    value(await store.save(plainSite))
    nowMs += 60_000
    value(await store.save({ ...plainSite, id: uuid(7), name: 'South field' }))
    await behind((stores) => stores('texts').clear())
    const list = value(await store.list())
    expect(list.map(({ name }) => name)).toEqual(['South field', 'North field'])
    expect(list[1]).toEqual({
      id: plainSite.id,
      name: 'North field',
      savedAt: list[1].savedAt,
      bytes: saveSite(plainSite).length,
      readings: 0,
      rows: 0,
      recoveredFrom: null,
    })
    expect(Date.parse(list[0].savedAt)).toBe(nowMs)
  })

  it('comes in the order in which it was given, also without waiting in between', async () => {
    const store = await fresh()
    const saves = ['a', 'b', 'c', 'd', 'e'].map((note) => store.save(noted(note)))
    const receipts = (await Promise.all(saves)).map(value)
    expect(receipts.map(({ generation }) => generation)).toEqual([1, 2, 3, 4, 5])
    expect(noteOf(value(await store.load(plainSite.id)).site)).toBe('e')
    // two generations, and the earlier version of this hour
    expect(await texts()).toBe(3)
  })
})

describe('a damaged copy', () => {
  it('is passed over for the one before it, and said', async () => {
    const store = await fresh()
    await store.save(noted('older'))
    const { savedAt: olderSavedAt } = await rowOf(plainSite.id)
    nowMs += 60_000
    await store.save(noted('newer'))
    await damage(noted('newer'))
    const { site, notes, savedAt } = value(await (await tab()).load(plainSite.id))
    expect(noteOf(site)).toBe('older')
    expect(savedAt).toBe(olderSavedAt)
    expect(notes).toMatchObject([{ code: 'storage.damaged', facts: { name: 'North field', olderSavedAt } }])
  })

  it('never costs the copy that was opened instead', async () => {
    const store = await fresh()
    for (const note of ['older', 'newer']) await store.save(noted(note))
    await damage(noted('newer'))
    const second = await tab()
    value(await second.load(plainSite.id))
    expect(value(await second.save(noted('next'))).generation).toBe(3)
    await damage(noted('next'))
    const third = await tab()
    expect(noteOf(value(await third.load(plainSite.id)).site)).toBe('older')
    const kept = value(await third.damagedCopies(plainSite.id)).map((bytes) =>
      new TextDecoder().decode(bytes),
    )
    expect(kept).toEqual(['next', 'newer'].map((note) => saveSite(noted(note)).replace('North', 'Morth')))
  })

  it('is no different where its text is missing', async () => {
    const store = await fresh()
    for (const note of ['older', 'newer']) await store.save(noted(note))
    const { copies } = await rowOf(plainSite.id)
    await behind((stores) => stores('texts').delete(copies[0].key))
    expect(noteOf(value(await store.load(plainSite.id)).site)).toBe('older')
  })

  it('is a problem where there is no other', async () => {
    const store = await fresh()
    await store.save(plainSite)
    await damage(plainSite)
    const loaded = await store.load(plainSite.id)
    expect(loaded).toMatchObject({
      ok: false,
      error: [{ code: 'storage.damaged', facts: { olderSavedAt: null } }],
    })
    expect(value(await store.damagedCopies(plainSite.id))).toHaveLength(1)
  })

  it('of a newer file version is not damaged: it is refused, and nothing older is shown', async () => {
    const store = await fresh()
    await store.save(noted('older'))
    await store.save(noted('newer'))
    const row = await rowOf(plainSite.id)
    const text = saveSite(noted('newer')).replace(/"version": \d+/, '"version": 99')
    await overwrite(row.copies[0].key, text)
    const sha256 = await browserStorage().sha256!(new TextEncoder().encode(text))
    const copies = [{ ...row.copies[0], sha256 }, row.copies[1]]
    await behind((stores) => stores('sites').put({ ...row, copies }))
    const second = await tab()
    expect(codeOf(await second.load(plainSite.id))).toBe('file.newerVersion')
    expect(codeOf(await second.save(noted('mine')))).toBe('storage.conflict')
    expect((await rowOf(plainSite.id)).copies).toEqual(copies)
  })
})

describe('a site that was saved elsewhere meanwhile', () => {
  async function conflict() {
    const [mine, other] = [await fresh(), await tab()]
    await mine.save(noted('common'))
    await other.load(plainSite.id)
    await other.save(noted('theirs'))
    return { mine, other, outcome: await mine.save(noted('mine')) }
  }
  const recovered = async (store: SiteStore) =>
    value(await store.list()).filter(({ recoveredFrom }) => recoveredFrom === plainSite.id)

  it('is not written over; the other version is kept beside it under an id of its own', async () => {
    const { other, outcome } = await conflict()
    expect(outcome).toMatchObject({
      ok: false,
      error: { code: 'storage.conflict', facts: { name: 'North field' } },
    })
    expect(noteOf(value(await other.load(plainSite.id)).site)).toBe('theirs')
    const copies = await recovered(other)
    expect(copies).toMatchObject([{ name: 'North field, recovered' }])
    const copy = value(await other.load(copies[0].id)).site
    expect(copy.id).toBe(copies[0].id)
    expect(noteOf(copy)).toBe('mine')
  })

  it('stays a conflict until it is loaded again, with one copy that is kept up to date', async () => {
    const { mine, outcome } = await conflict()
    for (const note of ['mine 2', 'mine 3']) expect(await mine.save(noted(note))).toEqual(outcome)
    const copies = await recovered(mine)
    expect(copies).toHaveLength(1)
    expect(noteOf(value(await mine.load(copies[0].id)).site)).toBe('mine 3')
    value(await mine.load(plainSite.id))
    value(await mine.save(noted('merged')))
    expect(noteOf(value(await mine.load(plainSite.id)).site)).toBe('merged')
    expect(await recovered(mine)).toHaveLength(1)
  })

  it('is none where both are the same', async () => {
    await (await fresh()).save(noted('same'))
    expect(codeOf(await (await tab()).save(noted('same')))).toBe('none')
  })

  it('is one too where a file of the same site is brought in unseen', async () => {
    await (await fresh()).save(noted('kept'))
    expect(codeOf(await (await tab()).save(noted('from a file')))).toBe('storage.conflict')
  })

  it('is one although it was removed and came back with the same count of saves', async () => {
    const [mine, other] = [await fresh(), await tab()]
    await mine.save(noted('first'))
    value(await other.remove(plainSite.id))
    value(await other.save(noted('another first')))
    expect((await rowOf(plainSite.id)).generation).toBe(1)
    expect(codeOf(await mine.save(noted('second')))).toBe('storage.conflict')
  })
})

describe('a removed site', () => {
  it('lies in the bin for 30 days and comes back whole', async () => {
    const store = await fresh()
    await store.save(plainSite)
    value(await store.remove(plainSite.id))
    expect(value(await store.list())).toEqual([])
    expect(codeOf(await store.load(plainSite.id))).toBe('storage.notThere')
    nowMs += 30 * dayMs - 1
    const [binned] = value(await (await tab()).listBin())
    expect(binned).toMatchObject({ id: plainSite.id, name: 'North field' })
    expect(Date.parse(binned.keptUntil) - Date.parse(binned.binnedAt)).toBe(30 * dayMs)
    expect(value(await store.restore(binned.key))).toBe(plainSite.id)
    expect(value(await store.load(plainSite.id)).site).toEqual(plainSite)
    expect(value(await store.listBin())).toEqual([])
  })

  it('is gone for good afterwards, with its texts and nothing else', async () => {
    const store = await fresh()
    for (const note of ['a', 'b']) await store.save(noted(note))
    await store.save({ ...plainSite, id: uuid(7) })
    await store.remove(plainSite.id)
    expect(await texts()).toBe(3)
    nowMs += 30 * dayMs
    const later = await tab()
    expect(value(await later.listBin())).toEqual([])
    expect(await texts()).toBe(1)
    expect(value(await later.load(uuid(7))).notes).toEqual([])
  })

  it('can be removed for good at once', async () => {
    const store = await fresh()
    await store.save(plainSite)
    await store.remove(plainSite.id)
    value(await store.erase(value(await store.listBin())[0].key))
    expect(value(await store.listBin())).toEqual([])
    expect(await texts()).toBe(0)
  })

  it('is kept again when a tab that has it open goes on working', async () => {
    const [mine, other] = [await fresh(), await tab()]
    await mine.save(noted('before'))
    await other.remove(plainSite.id)
    expect(value(await mine.save(noted('after'))).generation).toBe(2)
    const [binned] = value(await other.listBin())
    const id = value(await other.restore(binned.key))
    expect(id).not.toBe(plainSite.id)
    expect(noteOf(value(await other.load(id)).site)).toBe('before')
    expect(noteOf(value(await other.load(plainSite.id)).site)).toBe('after')
    expect(value(await other.listBin())).toEqual([])
    expect(value(await other.list()).find((site) => site.id === id)?.recoveredFrom).toBe(plainSite.id)
  })

  it('that is not there any more is a problem', async () => {
    const store = await fresh()
    expect(codeOf(await store.remove(plainSite.id))).toBe('storage.notThere')
    expect(codeOf(await store.restore('none'))).toBe('storage.notThere')
  })
})

/** Letters in no order: a browser compresses what repeats, and then has room for it. */
function incompressible(length: number): string {
  const { uniform } = randomStream(1)
  return Array.from({ length }, () => String.fromCharCode(0x4e00 + Math.floor(uniform() * 0x4000))).join('')
}

describe('storage that fails', () => {
  /** A browser gives a bucket a quota of its own and enforces it; the types do not know buckets yet. */
  interface Buckets {
    open(name: string, options: { quota: number }): Promise<{ readonly indexedDB: IDBFactory }>
    delete(name: string): Promise<void>
  }
  const { storageBuckets } = navigator as unknown as { storageBuckets: Buckets }

  it('for lack of room keeps what was kept before, and says so', async () => {
    const bucket = await storageBuckets.open('small', { quota: 200_000 })
    const world = {
      ...browserStorage(),
      copyFiles: () => null,
      indexedDB: bucket.indexedDB,
      databaseName: 'small',
    }
    const store = value(await openSiteStore(() => undefined, { ...world, freeBytes: async () => 70 }))
    try {
      value(await store.save(noted('before')))
      const outcome = await store.save(noted(incompressible(1_000_000)))
      expect(outcome).toMatchObject({
        ok: false,
        error: { code: 'storage.full', facts: { name: 'North field', freeBytes: 70 } },
      })
      expect(noteOf(value(await store.load(plainSite.id)).site)).toBe('before')
      expect(value(await store.save(noted('after'))).generation).toBe(2)
      expect(noteOf(value(await store.load(plainSite.id)).site)).toBe('after')
    } finally {
      store.close()
      await storageBuckets.delete('small')
    }
  })

  it('half-way leaves nothing of the save', async () => {
    const store = await fresh()
    await store.save(noted('before'))
    const { put } = IDBObjectStore.prototype
    IDBObjectStore.prototype.put = function (...args) {
      if (this.name === 'sites') throw new DOMException('the disk is gone', 'UnknownError')
      return put.apply(this, args)
    }
    try {
      expect(await store.save(noted('after'))).toMatchObject({
        ok: false,
        error: { code: 'storage.failed', facts: { doing: 'write', reason: 'the disk is gone' } },
      })
    } finally {
      IDBObjectStore.prototype.put = put
    }
    expect(await texts()).toBe(1)
    expect(noteOf(value(await store.load(plainSite.id)).site)).toBe('before')
  })

  it('because it was closed from outside is told at once and at the next save', async () => {
    await fresh()
    let closed = 0
    const store = await tab(() => void closed++)
    const request = indexedDB.open(databaseName, databaseVersion + 1)
    await new Promise((resolve) => (request.onsuccess = resolve))
    request.result.close()
    expect(closed).toBe(1)
    expect(codeOf(await store.save(plainSite))).toBe('storage.closed')
    expect(codeOf(await store.list())).toBe('storage.closed')
    const again = await openSiteStore(() => undefined, {
      ...browserStorage(),
      copyFiles: () => null,
      databaseName,
    })
    expect(codeOf(again)).toBe('storage.newer')
  })
})
