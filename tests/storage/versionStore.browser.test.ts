import { afterEach, describe, expect, it } from 'vitest'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import type { SiteStore } from '../../src/storage/siteStore.ts'
import { browserStorage } from '../../src/storage/storageEnvironment.ts'
import { noted, noteOf, plainSite } from './storedSites.ts'

const hourMs = 3600 * 1000
let count = 0
let nowMs = 0
let databaseName = ''
let store: SiteStore

async function fresh(): Promise<void> {
  databaseName = `versions ${++count}`
  nowMs = Date.UTC(2031, 4, 4, 8)
  const world = { ...browserStorage(), copyFiles: () => null, databaseName, nowMs: () => nowMs }
  const opened = await openSiteStore(() => undefined, world)
  if (!opened.ok) throw new Error(opened.error.code)
  store = opened.value
}

async function listed(): Promise<readonly (readonly [string, string])[]> {
  const list = await store.versions.list(plainSite.id)
  if (!list.ok) throw new Error(list.error.code)
  const notes: [string, string][] = []
  for (const { key, why } of list.value) {
    const site = await store.versions.load(plainSite.id, key)
    notes.push([site.ok ? noteOf(site.value) : site.error[0].code, why])
  }
  return notes
}

async function texts(): Promise<number> {
  const request = indexedDB.open(databaseName)
  await new Promise((resolve) => (request.onsuccess = resolve))
  const counted = request.result.transaction('texts').objectStore('texts').count()
  await new Promise((resolve) => (counted.onsuccess = resolve))
  request.result.close()
  return counted.result
}

afterEach(() => {
  store.close()
  indexedDB.deleteDatabase(databaseName)
})

describe('earlier versions of a site', () => {
  it('come by themselves hour by hour, can be had whole, and leave no text behind', async () => {
    await fresh()
    for (const note of ['8 a', '8 b', '8 c', '9 a', '9 b', '10 a', '10 b']) {
      nowMs = Date.UTC(2031, 4, 4, Number(note.split(' ')[0]), note.charCodeAt(note.length - 1) - 90)
      await store.save(noted(note))
    }
    expect(await listed()).toEqual([
      ['10 a', 'time'],
      ['9 b', 'time'],
      ['8 c', 'time'],
    ])
    expect(await texts()).toBe(4)
    nowMs += 31 * 24 * hourMs
    for (const note of ['x', 'y', 'z']) await store.save(noted(note))
    expect((await listed()).map(([note]) => note)).toEqual(['y', 'x'])
    expect(await texts()).toBe(3)
  })

  it('are kept on purpose before something larger is done, with what came from elsewhere', async () => {
    await fresh()
    await store.save(noted('before'))
    await store.versions.keepNewest(plainSite.id, 'merge')
    expect(await listed()).toEqual([])
    nowMs += 1000
    await store.versions.keepOther(noted('theirs'), 'otherDrawing')
    for (const note of ['a', 'b', 'c', 'd']) await store.save(noted(note))
    expect(await listed()).toEqual(
      expect.arrayContaining([
        ['before', 'merge'],
        ['theirs', 'otherDrawing'],
        ['c', 'time'],
      ]),
    )
  })

  it('go with their site to the bin, come back with it, and are erased with it', async () => {
    await fresh()
    for (const note of ['a', 'b', 'c']) await store.save(noted(note))
    await store.remove(plainSite.id)
    let bin = await store.listBin()
    if (bin.ok) await store.restore(bin.value[0].key)
    expect((await listed()).map(([note]) => note)).toEqual(['b', 'a'])
    await store.remove(plainSite.id)
    bin = await store.listBin()
    if (bin.ok) await store.erase(bin.value[0].key)
    expect(await texts()).toBe(0)
  })

  it('that are damaged are told and not shown', async () => {
    await fresh()
    for (const note of ['a', 'b', 'c']) await store.save(noted(note))
    const request = indexedDB.open(databaseName)
    await new Promise((resolve) => (request.onsuccess = resolve))
    const transaction = request.result.transaction('texts', 'readwrite')
    const keys = transaction.objectStore('texts').getAllKeys()
    keys.onsuccess = () => {
      for (const key of keys.result) transaction.objectStore('texts').put(new Uint8Array(3), key)
    }
    await new Promise((resolve) => (transaction.oncomplete = resolve))
    request.result.close()
    expect((await listed()).map(([note]) => note)).toEqual(['storage.damaged', 'storage.damaged'])
  })

  it('give their room to what is new where there is none', async () => {
    await fresh()
    for (const note of ['a', 'b', 'c', 'd']) await store.save(noted(note))
    await store.versions.keepNewest(plainSite.id, 'merge')
    expect(await store.versions.makeRoom()).toBe(true)
    expect(await store.versions.makeRoom()).toBe(false)
    expect(await texts()).toBe(2)
    await store.save(noted('e'))
    await store.save(noted('f'))
    expect(await listed()).toEqual(expect.arrayContaining([['d', 'merge']]))
  })
})
