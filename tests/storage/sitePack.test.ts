import { deflateRawSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { ok, fail } from '../../src/base/result.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import { crc32, writeZip, type ZipPiece } from '../../src/files/zip.ts'
import { limits } from '../../src/model/limits.ts'
import { problem } from '../../src/model/problem.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import { packSite, photosOf, unpackSite } from '../../src/storage/sitePack.ts'
import { sha256Of } from '../../src/storage/storageEnvironment.ts'
import { exampleSite } from '../model/exampleSite.ts'

const photo = Uint8Array.from([0xff, 0xd8, 0xff, 1, 2, 3])
const sha256 = await sha256Of(photo)
const gone = 'cd'.repeat(32)
const plain = exampleSite()
const site = {
  ...plain,
  record: plain.record.map((entry) => {
    if (entry.entry !== 'reading') return entry
    return { ...entry, photos: [sha256, gone] } satisfies EntryOf<'reading'>
  }),
}
const text = new TextEncoder().encode(saveSite(site))
const store = {
  get: (name: string) =>
    Promise.resolve(
      name === sha256
        ? ok({ bytes: photo, type: 'image/jpeg' as const })
        : fail(problem('photo.notThere', { sha256: name })),
    ),
}
const unpacked = (pieces: readonly ZipPiece[]) => unpackSite(writeZip(pieces), 'a.zip', sha256Of)
async function reasonOf(pieces: readonly ZipPiece[]) {
  const result = await unpacked(pieces)
  return result.ok ? 'none' : (result.error[0].facts as { reason?: string }).reason
}
const whole: readonly ZipPiece[] = [
  { name: 'site.json', bytes: text },
  { name: `photos/${sha256}.jpg`, bytes: photo },
]

describe('a site with its photos as one file', () => {
  it('comes back whole, and says which photos are not on this device', async () => {
    const packed = await packSite(site, store)
    if (!packed.ok) throw new Error(packed.error.code)
    expect(packed.value.missing).toEqual(photosOf(site).filter((name) => name !== sha256))
    const opened = await unpackSite(packed.value.bytes, 'a.zip', sha256Of)
    expect(opened).toEqual({ ok: true, value: { site, photos: [photo], notes: [] } })
  })

  it('is opened too where it was deflated', async () => {
    const deflated = new Uint8Array(deflateRawSync(text))
    const zip = writeZip([{ name: 'site.json', bytes: deflated }])
    const view = new DataView(zip.buffer)
    const directory = 30 + 9 + deflated.length
    view.setUint16(directory + 10, 8, true)
    view.setUint32(directory + 24, text.length, true)
    view.setUint32(directory + 16, crc32(text), true)
    expect(await unpackSite(zip, 'a.zip', sha256Of)).toMatchObject({ ok: true, value: { photos: [] } })
    // it unpacks to more than it said
    view.setUint32(directory + 24, 10, true)
    expect(await unpackSite(zip, 'a.zip', sha256Of)).toMatchObject({ ok: false })
  })

  it.each([
    ['a path that leads elsewhere', [...whole, { name: '../../evil.jpg', bytes: photo }], 'name'],
    ['a photo of another name', [...whole, { name: 'photos/holiday.jpg', bytes: photo }], 'name'],
    ['the same entry twice', [...whole, whole[1]], 'twice'],
    ['no site', whole.slice(1), 'noSite'],
    [
      'a photo beyond the limit',
      [whole[0], { name: `photos/${gone}.jpg`, bytes: new Uint8Array(limits.photoBytes + 1) }],
      'tooLarge',
    ],
  ])('is refused with %s', async (_, pieces, reason) => {
    expect(await reasonOf(pieces)).toBe(reason)
  })

  it('leaves out a photo that is not what its name says, and tells', async () => {
    const opened = await unpacked([whole[0], { name: `photos/${gone}.jpg`, bytes: photo }])
    expect(opened).toMatchObject({
      ok: true,
      value: { photos: [], notes: [{ code: 'photo.damaged', facts: { sha256: gone } }] },
    })
  })

  it('is refused where a byte changed on the way', async () => {
    const zip = writeZip(whole)
    zip[30 + 9 + 20] ^= 1
    expect(await unpackSite(zip, 'a.zip', sha256Of)).toMatchObject({ ok: false })
  })
})
