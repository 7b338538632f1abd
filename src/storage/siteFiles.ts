import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { siteFileBytes } from '../files/saveSite.ts'
import { isZip } from '../files/zip.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { fileErrorReason } from '../text/storageText.ts'
import { browserFiles, type FileEnvironment, type FileKind } from './fileEnvironment.ts'
import type { PhotoStore } from './photoStore.ts'
import { siteFileName } from './siteFileName.ts'
import { packSite, photosOf, unpackSite } from './sitePack.ts'
import type { Bytes } from './siteRows.ts'
import { sha256Of } from './storageEnvironment.ts'

export interface OpenedFile {
  readonly site: Site
  readonly fileName: string
  /** With it the file can be written again in place; null where the browser gives none. */
  readonly handle: FileSystemFileHandle | null
  /** Photos that came with it, not yet kept. */
  readonly photos: readonly Bytes[]
  /** What was left out of it, where something was. */
  readonly notes: readonly Problem[]
}

export interface SavedFile {
  readonly fileName: string
  readonly handle: FileSystemFileHandle | null
  /** False where the browser took the file as a download and does not say what became of it. */
  readonly isWritten: boolean
  /** How many photos of the record are not on this device and so not in the file. */
  readonly photosMissing: number
}

type Opened = Result<OpenedFile, readonly Problem[]>

/** Lets the user choose a site file and opens it; null when they cancel. Call it from a click or a key. */
export async function pickSiteFile(environment: FileEnvironment = browserFiles()): Promise<Opened | null> {
  try {
    if (!environment.openHandle) {
      const file = await environment.chooseFile()
      return file && (await openFile(file, null))
    }
    const handle = await environment.openHandle()
    return await openFile(await handle.getFile(), handle)
  } catch (error) {
    return isCancelled(error) ? null : fail([problem('file.missing', { reason: reasonOf(error) })])
  }
}

/**
 * Opens the site file that was dropped on the page; null where no file was dropped. Call it within the drop
 * event, for the browser takes its files away afterwards.
 */
export async function droppedSiteFile(dropped: Pick<DataTransfer, 'files'> | null): Promise<Opened | null> {
  const files = Array.from(dropped?.files ?? [])
  if (files.length > 1) return fail([problem('file.several', { count: files.length })])
  return files.length === 0 ? null : openFile(files[0], null)
}

/**
 * Writes a site as a file: in place where `handle` is given, else where the user says; null when they
 * cancel. A file that could not be written to its end is left as it was, and so is one for a site that is too long
 * to be opened again. A site whose record names photos goes with them as one ZIP file, where `photos` has any of them.
 * Call it from a click or a key.
 */
export async function saveSiteFile(
  site: Site,
  handle: FileSystemFileHandle | null = null,
  environment: FileEnvironment = browserFiles(),
  photos: Pick<PhotoStore, 'get'> | null = null,
): Promise<Result<SavedFile, Problem> | null> {
  const text = siteFileBytes(site)
  if (!text.ok) return text
  const kind: FileKind = photos && photosOf(site).length > 0 ? 'zip' : 'json'
  const suggested = siteFileName(site.name).replace(/json$/, kind)
  let target = handle
  try {
    const isDownload = !target && !environment.saveHandle
    // asked before the file is packed: a browser lets a page ask only shortly after a click
    if (!isDownload) target ??= (await environment.saveHandle?.(suggested, kind)) ?? null
    if (!isDownload && !target) return null
    const packed =
      photos && kind === 'zip' ? await packSite(site, photos) : ok({ bytes: text.value, missing: [] })
    if (!packed.ok) return packed
    const { bytes, missing } = packed.value
    if (!target) {
      environment.download(new Blob([bytes], { type: `application/${kind}` }), suggested)
      return ok({ fileName: suggested, handle: null, isWritten: false, photosMissing: missing.length })
    }
    await write(target, bytes)
    return ok({ fileName: target.name, handle: target, isWritten: true, photosMissing: missing.length })
  } catch (error) {
    if (isCancelled(error)) return null
    return fail(problem('file.notWritten', { reason: reasonOf(error) }, { file: target?.name ?? suggested }))
  }
}

async function openFile(file: File, handle: FileSystemFileHandle | null): Promise<Opened> {
  const isPack = isZip(await head(file))
  const mostBytes = isPack ? limits.packBytes : limits.fileBytes
  if (file.size > mostBytes) {
    const facts = { bytes: file.size, mostBytes }
    return fail([problem('file.tooLarge', facts, { file: file.name })])
  }
  let bytes: ArrayBuffer
  try {
    bytes = await file.arrayBuffer()
  } catch (error) {
    return fail([problem('file.missing', { reason: reasonOf(error) }, { file: file.name })])
  }
  // a file with photos is not written in place: it is packed anew where the user says
  if (isPack) {
    const unpacked = await unpackSite(new Uint8Array(bytes), file.name, sha256Of)
    return unpacked.ok ? ok({ ...unpacked.value, fileName: file.name, handle: null }) : unpacked
  }
  const opened = openSite(new Uint8Array(bytes), file.name)
  return opened.ok ? ok({ site: opened.value, fileName: file.name, handle, photos: [], notes: [] }) : opened
}

/** The first bytes of a file, as far as it can be read: the rest tells what is wrong with it. */
async function head(file: File): Promise<Uint8Array> {
  try {
    return new Uint8Array(await file.slice(0, 4).arrayBuffer())
  } catch {
    return new Uint8Array()
  }
}

// The browser writes beside the file and puts the new one in its place on close.
async function write(handle: FileSystemFileHandle, bytes: Uint8Array<ArrayBuffer>): Promise<void> {
  const stream = await handle.createWritable()
  try {
    await stream.write(bytes)
    await stream.close()
  } catch (error) {
    await stream.abort().catch(() => undefined)
    throw error
  }
}

function isCancelled(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'AbortError'
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? fileErrorReason(error.name, error.message) : String(error)
}
