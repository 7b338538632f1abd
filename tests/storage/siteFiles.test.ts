import fc from 'fast-check'
import { fail } from '../../src/base/result.ts'
import { problem } from '../../src/model/problem.ts'
import { photosOf } from '../../src/storage/sitePack.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { describe, expect, it } from 'vitest'
import { saveSite } from '../../src/files/saveSite.ts'
import { limits } from '../../src/model/limits.ts'
import type { FileEnvironment } from '../../src/storage/fileEnvironment.ts'
import { siteFileName } from '../../src/storage/siteFileName.ts'
import { droppedSiteFile, pickSiteFile, saveSiteFile } from '../../src/storage/siteFiles.ts'
import { noted, plainSite } from './storedSites.ts'

const text = saveSite(plainSite)
const siteFile = () => new File([text], 'north.json')
const cancelled = () => Promise.reject(new DOMException('', 'AbortError'))
const refused = () => Promise.reject(new DOMException('', 'NotAllowedError'))
const unexpected = () => {
  throw new Error('should not be asked')
}

const plain: FileEnvironment = {
  openHandle: null,
  saveHandle: null,
  chooseFile: unexpected,
  download: unexpected,
}

/** A file that reads as `file` and records what is written; `failing` makes its disk full. */
function fakeHandle(file: File, failing = false) {
  const log: string[] = []
  const handle = {
    name: file.name,
    getFile: async () => file,
    createWritable: async () => ({
      write: async (content: Uint8Array) => {
        log.push(new TextDecoder().decode(content))
        if (failing) throw new DOMException('', 'QuotaExceededError')
      },
      close: async () => void log.push('closed'),
      abort: async () => void log.push('aborted'),
    }),
  } as unknown as FileSystemFileHandle
  return { handle, log }
}

function sized(size: number): File {
  const reading = () => Promise.reject(new Error('should not be read'))
  return { name: 'huge.json', size, arrayBuffer: reading } as unknown as File
}

describe('picking a site file', () => {
  it('opens it in place where the browser can, and keeps the handle', async () => {
    const { handle } = fakeHandle(siteFile())
    const opened = await pickSiteFile({ ...plain, openHandle: async () => handle })
    expect(opened).toEqual({
      ok: true,
      value: { site: plainSite, fileName: 'north.json', handle, photos: [], notes: [] },
    })
  })

  it('opens it through the plain dialogue elsewhere', async () => {
    const opened = await pickSiteFile({ ...plain, chooseFile: async () => siteFile() })
    expect(opened).toEqual({
      ok: true,
      value: { site: plainSite, fileName: 'north.json', handle: null, photos: [], notes: [] },
    })
  })

  it('is nothing when the user cancels', async () => {
    expect(await pickSiteFile({ ...plain, openHandle: cancelled })).toBeNull()
    expect(await pickSiteFile({ ...plain, chooseFile: async () => null })).toBeNull()
  })

  it('tells why a file cannot be read', async () => {
    const opened = await pickSiteFile({ ...plain, openHandle: refused })
    expect(opened).toMatchObject({
      ok: false,
      error: [{ code: 'file.missing', facts: { reason: 'permission was refused' } }],
    })
  })

  it('refuses a file that is too large before it reads any of it', async () => {
    const opened = await pickSiteFile({ ...plain, chooseFile: async () => sized(limits.fileBytes + 1) })
    expect(opened).toMatchObject({
      ok: false,
      error: [
        { code: 'file.tooLarge', where: { file: 'huge.json' }, facts: { bytes: limits.fileBytes + 1 } },
      ],
    })
  })

  it('tells what is wrong inside, with the name of the file', async () => {
    const damaged = new File([text.slice(0, 500)], 'cut.json')
    const opened = await pickSiteFile({ ...plain, chooseFile: async () => damaged })
    expect(opened).toMatchObject({
      ok: false,
      error: [{ code: 'file.notJson', where: { file: 'cut.json' } }],
    })
  })
})

describe('dropping a site file', () => {
  const dropped = (...files: File[]) => droppedSiteFile({ files: files as unknown as FileList })

  it('opens one, refuses several, passes over none', async () => {
    expect(await dropped(siteFile())).toMatchObject({ ok: true, value: { site: plainSite } })
    expect(await dropped(siteFile(), siteFile())).toMatchObject({
      ok: false,
      error: [{ code: 'file.several', facts: { count: 2 } }],
    })
    expect(await dropped()).toBeNull()
    expect(await droppedSiteFile(null)).toBeNull()
  })

  it('tells of a folder that it cannot be read', async () => {
    const folder = {
      ...sized(4096),
      arrayBuffer: () => Promise.reject(new DOMException('', 'NotFoundError')),
    }
    const opened = await dropped(folder)
    expect(opened).toMatchObject({
      ok: false,
      error: [{ code: 'file.missing', where: { file: 'huge.json' } }],
    })
    expect(JSON.stringify(opened)).toContain('folder')
  })
})

describe('saving a site file', () => {
  it('writes the whole text where the user says, then again in place', async () => {
    const { handle, log } = fakeHandle(siteFile())
    const names: string[] = []
    const saveHandle = async (name: string) => {
      names.push(name)
      return handle
    }
    const saved = await saveSiteFile(plainSite, null, { ...plain, saveHandle })
    expect(saved).toEqual({
      ok: true,
      value: { fileName: 'north.json', handle, isWritten: true, photosMissing: 0 },
    })
    await saveSiteFile(plainSite, handle, { ...plain, saveHandle: unexpected })
    expect(names).toEqual(['North field.json'])
    expect(log).toEqual([text, 'closed', text, 'closed'])
  })

  it('asks for no place where the site is too long to be opened again, and tells so; writes one as long as may be', async () => {
    const letter = 'é'
    const room = limits.fileBytes - new TextEncoder().encode(saveSite(noted(''))).length
    const tooLong = noted(letter.repeat(Math.floor(room / 2) + 1))
    expect(await saveSiteFile(tooLong, null, { ...plain, saveHandle: unexpected })).toMatchObject({
      ok: false,
      error: { code: 'file.tooLongToSave', facts: { mostBytes: limits.fileBytes } },
    })
    const { handle, log } = fakeHandle(siteFile())
    const fitting = await saveSiteFile(noted(letter.repeat(Math.floor(room / 2))), handle, plain)
    expect(fitting).toMatchObject({ ok: true })
    expect(log.slice(1)).toEqual(['closed'])
  })

  it('leaves a file alone that it cannot write to its end, and tells why', async () => {
    const { handle, log } = fakeHandle(siteFile(), true)
    const saved = await saveSiteFile(plainSite, handle, plain)
    expect(saved).toMatchObject({
      ok: false,
      error: {
        code: 'file.notWritten',
        where: { file: 'north.json' },
        facts: { reason: 'there is no room left' },
      },
    })
    expect(log).toEqual([text, 'aborted'])
  })

  it('is nothing when the user cancels', async () => {
    expect(await saveSiteFile(plainSite, null, { ...plain, saveHandle: cancelled })).toBeNull()
  })

  it('goes with its photos as one ZIP file where its record names any', async () => {
    const downloads: [string, string][] = []
    const download = (content: Blob, name: string) => downloads.push([name, content.type])
    const named = exampleSite()
    const photos = {
      get: (sha256: string) => Promise.resolve(fail(problem('photo.notThere', { sha256 }))),
    }
    const count = photosOf(named).length
    expect(count).toBeGreaterThan(0)
    const saved = await saveSiteFile(named, null, { ...plain, download }, photos)
    expect(saved).toMatchObject({ ok: true, value: { photosMissing: count } })
    await saveSiteFile(plainSite, null, { ...plain, download }, photos)
    expect(downloads.map(([name, type]) => [name.split('.').at(-1), type])).toEqual([
      ['zip', 'application/zip'],
      ['json', 'application/json'],
    ])
  })

  it('hands a download to browsers that write no files, and does not claim more', async () => {
    const downloads: [string, string][] = []
    const download = (content: Blob, name: string) =>
      void content.text().then((t) => downloads.push([name, t]))
    const saved = await saveSiteFile(plainSite, null, { ...plain, download })
    expect(saved).toEqual({
      ok: true,
      value: { fileName: 'North field.json', handle: null, isWritten: false, photosMissing: 0 },
    })
    await expect.poll(() => downloads).toEqual([['North field.json', text]])
  })
})

describe('names of site files', () => {
  it.each([
    ['Warehouse Roof 2', 'Warehouse Roof 2.json'],
    ['  A/B: north? ', 'A B north.json'],
    ['..', 'site.json'],
    ['', 'site.json'],
    ['CON', 'site CON.json'],
    ['Süd-Hof 東', 'Süd-Hof 東.json'],
    ['a\u202Etxt.exe', 'a txt.exe.json'],
  ])('%j is %j', (name, fileName) => {
    expect(siteFileName(name)).toBe(fileName)
  })

  it('every name is one that file systems take', () => {
    const awkward = fc.constantFrom(...'<>:"/\\|?*. .aZ9é東𝛺', '\u0000', '\n', '\u202E', '\uD835', '\uFEFF')
    fc.assert(
      fc.property(fc.string({ unit: awkward, maxLength: 90 }), (name) => {
        const fileName = siteFileName(name)
        expect(fileName).toMatch(/^[^<>:"/\\|?*\p{Cc}\p{Cf}\p{Cs}]+\.json$/u)
        expect(fileName).not.toMatch(/^[. ]|[. ]\.json$/)
        expect(Array.from(fileName).length).toBeLessThanOrEqual(70)
      }),
      { seed: 7, numRuns: 2000 },
    )
  })
})
