import { describe, expect, it } from 'vitest'
import { openSiteStore } from '../../src/storage/openSiteStore.ts'
import {
  askToPersist,
  browserStorage,
  estimateRoom,
  localInstant,
  type StorageEnvironment,
} from '../../src/storage/storageEnvironment.ts'
import { storageProblem } from '../../src/storage/storageProblem.ts'
import { instant } from '../../src/model/schema/primitives.ts'

const attempt = { doing: 'write', name: 'North field', bytes: 5000 } as const

describe('the clock of the device', () => {
  it.each([
    [120, '2031-05-04T10:05:09+02:00'],
    [0, '2031-05-04T08:05:09+00:00'],
    [-570, '2031-05-03T22:35:09-09:30'],
  ])('writes an instant in the zone %i minutes from UTC', (zoneMinutes, text) => {
    const timeMs = Date.UTC(2031, 4, 4, 8, 5, 9)
    expect(localInstant(timeMs, zoneMinutes)).toBe(text)
    expect(Date.parse(text)).toBe(timeMs)
    expect(instant.parse(text)).toBe(text)
  })
})

describe('the checksum', () => {
  // FIPS 180-4 examples of NIST (SHA-256, one block): "abc".
  it('is SHA-256 in hexadecimal', async () => {
    const digest = await browserStorage().sha256?.(new TextEncoder().encode('abc'))
    expect(digest).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
  })
})

describe('errors of the browser as problems', () => {
  const cases = [
    ['QuotaExceededError', 'storage.full', { name: 'North field', bytes: 5000, freeBytes: 70 }],
    ['InvalidStateError', 'storage.closed', {}],
    ['VersionError', 'storage.newer', {}],
    ['SecurityError', 'storage.blocked', { reason: 'words' }],
    ['UnknownError', 'storage.failed', { doing: 'write', reason: 'words' }],
  ] as const
  it.each(cases)('%s is %s', (name, code, facts) => {
    expect(storageProblem(new DOMException('words', name), attempt, 70)).toEqual({ code, facts, where: {} })
  })

  it('an error without words keeps its name', () => {
    expect(storageProblem(new DOMException('', 'DataError'), attempt, null).facts).toEqual({
      doing: 'write',
      reason: 'DataError',
    })
  })
})

describe('a browser that keeps nothing', () => {
  const world: StorageEnvironment = {
    indexedDB: undefined,
    copyFiles: () => null,
    databaseName: 'none',
    nowMs: () => 0,
    newId: () => '',
    sha256: async () => '',
    freeBytes: async () => null,
  }
  const opening = (error: Error): IDBFactory =>
    ({
      open: () => {
        throw error
      },
    }) as unknown as IDBFactory

  it.each([
    ['without a database', world],
    ['without checksums', { ...world, indexedDB: opening(new Error('never asked')), sha256: null }],
    ['that refuses', { ...world, indexedDB: opening(new DOMException('not here', 'SecurityError')) }],
  ])('%s is told as blocked', async (_, environment) => {
    const opened = await openSiteStore(() => undefined, environment)
    expect(opened).toMatchObject({ ok: false, error: { code: 'storage.blocked' } })
    expect(JSON.stringify(opened)).not.toContain('never asked')
  })

  it('whose database is of a newer program is told as newer', async () => {
    const indexedDB = opening(new DOMException('', 'VersionError'))
    const opened = await openSiteStore(() => undefined, { ...world, indexedDB })
    expect(opened).toMatchObject({ ok: false, error: { code: 'storage.newer' } })
  })
})

describe('room and the request to keep', () => {
  it('tells used and free bytes, or nothing where the browser does not say', async () => {
    expect(await estimateRoom({ estimate: async () => ({ usage: 30, quota: 100 }) })).toEqual({
      usedBytes: 30,
      freeBytes: 70,
    })
    expect(await estimateRoom({ estimate: async () => ({ usage: 30, quota: 10 }) })).toMatchObject({
      freeBytes: 0,
    })
    expect(await estimateRoom({ estimate: async () => ({}) })).toBeNull()
    expect(await estimateRoom({ estimate: () => Promise.reject(new Error('no')) })).toBeNull()
    expect(await estimateRoom({})).toBeNull()
  })

  it('asks only where it has not been granted before', async () => {
    const never = () => Promise.reject(new Error('asked again'))
    expect(await askToPersist({ persisted: async () => true, persist: never })).toBe('granted')
    expect(await askToPersist({ persisted: async () => false, persist: async () => true })).toBe('granted')
    expect(await askToPersist({ persisted: async () => false, persist: async () => false })).toBe('denied')
    expect(await askToPersist({ persist: never })).toBe('unknown')
    expect(await askToPersist({})).toBe('unknown')
  })
})
