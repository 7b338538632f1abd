import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { siteFileBytes } from '../files/saveSite.ts'
import { crc32, readZip, writeZip, type ZipEntry, type ZipPiece } from '../files/zip.ts'
import { limits } from '../model/limits.ts'
import type { Problem, ProblemFacts } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { photoTypeOf, type PhotoType } from './photoRows.ts'
import type { PhotoStore } from './photoStore.ts'
import type { Bytes } from './siteRows.ts'

/** A site with the photos that its record names, as one file: `site.json` and `photos/<sha256>.jpg`. */
export interface UnpackedSite {
  readonly site: Site
  readonly photos: readonly Bytes[]
  /** Photos that do not have their name's SHA-256: they are left out. */
  readonly notes: readonly Problem[]
}

const siteName = 'site.json'
const photoName = /^photos\/([0-9a-f]{64})\.(jpg|png|webp)$/
const endings: Readonly<Record<PhotoType, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
}

/** SHA-256 of every photo that the record names, each once. */
export function photosOf({ record }: Site): readonly string[] {
  return [...new Set(record.flatMap((entry) => ('photos' in entry ? entry.photos : [])))]
}

/** Site and photos as one ZIP file; `missing` are photos that are not on this device. */
export async function packSite(
  site: Site,
  store: Pick<PhotoStore, 'get'>,
): Promise<Result<{ readonly bytes: Bytes; readonly missing: readonly string[] }, Problem>> {
  const text = siteFileBytes(site)
  if (!text.ok) return text
  const pieces: ZipPiece[] = [{ name: siteName, bytes: text.value }]
  const missing: string[] = []
  for (const sha256 of photosOf(site)) {
    const photo = await store.get(sha256)
    if (photo.ok)
      pieces.push({ name: `photos/${sha256}.${endings[photo.value.type]}`, bytes: photo.value.bytes })
    else missing.push(sha256)
  }
  const total = pieces.reduce((sum, { bytes }) => sum + bytes.length, 0)
  if (total > limits.packBytes) {
    return fail(problem('file.tooLongToSave', { bytes: total, mostBytes: limits.packBytes }))
  }
  return ok({ bytes: writeZip(pieces), missing })
}

/**
 * Opens what `packSite` wrote, or another program from the same pieces. Refused whole: names other than ours, an entry
 * twice, lengths beyond the limits or other than the directory says, and a site that is none.
 */
export async function unpackSite(
  bytes: Bytes,
  fileName: string,
  sha256: (bytes: Bytes) => Promise<string>,
): Promise<Result<UnpackedSite, readonly Problem[]>> {
  const read = readZip(bytes, limits.packEntries)
  if (!read.ok) return fail([read.error])
  const entries = new Map(read.value.map((entry) => [entry.name, entry]))
  if (entries.size !== read.value.length) return refused('twice', '')
  const stranger = read.value.find(({ name }) => name !== siteName && !photoName.test(name))
  if (stranger) return refused('name', stranger.name)
  const text = await unpack(entries.get(siteName), limits.fileBytes)
  if (!text.ok) return fail([text.error])
  const site = openSite(text.value, fileName)
  if (!site.ok) return site
  const photos: Bytes[] = []
  const notes: Problem[] = []
  for (const entry of read.value) {
    const [, name] = photoName.exec(entry.name) ?? []
    if (!name) continue
    const photo = await unpack(entry, limits.photoBytes)
    if (!photo.ok) return fail([photo.error])
    const isSound = (await sha256(photo.value)) === name && photoTypeOf(photo.value) !== null
    if (isSound) photos.push(photo.value)
    else notes.push(problem('photo.damaged', { sha256: name }, { file: fileName }))
  }
  return ok({ site: site.value, photos, notes })
}

function refused(
  reason: ProblemFacts['zip.refused']['reason'],
  name: string,
): Result<never, readonly Problem[]> {
  return fail([problem('zip.refused', { reason, name })])
}

async function unpack(entry: ZipEntry | undefined, mostBytes: number): Promise<Result<Bytes, Problem>> {
  const no = (reason: ProblemFacts['zip.refused']['reason'], name = '') =>
    fail(problem('zip.refused', { reason, name }))
  if (!entry) return no('noSite')
  const { name, method, packed, size, crc } = entry
  if (size > mostBytes) return no('tooLarge', name)
  if (method !== 0 && method !== 8) return no('broken', name)
  const bytes = method === 0 ? packed : await inflate(packed, size)
  return bytes?.length === size && crc32(bytes) === crc ? ok(bytes) : no('broken', name)
}

/** What was deflated, or null where it is more than it said or damaged: reading stops there. */
async function inflate(packed: Bytes, size: number): Promise<Bytes | null> {
  const out = new Uint8Array(size)
  let at = 0
  try {
    const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader()
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return at === size ? out : null
      if (at + value.length > size) {
        await reader.cancel()
        return null
      }
      out.set(value, at)
      at += value.length
    }
  } catch {
    return null
  }
}
