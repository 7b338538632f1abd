import { afterEach, describe, expect, it, vi } from 'vitest'
import { saveSite } from '../../src/files/saveSite.ts'
import { browserFiles } from '../../src/storage/fileEnvironment.ts'
import { pickSiteFile, saveSiteFile } from '../../src/storage/siteFiles.ts'
import { plainSite } from './storedSites.ts'

const text = saveSite(plainSite)
/** The page as a browser without file pickers shows it. */
const plainWindow = { document } as Window

afterEach(() => vi.restoreAllMocks())

function answerDialogue(answer: (input: HTMLInputElement) => void): string[] {
  const accepted: string[] = []
  vi.spyOn(HTMLInputElement.prototype, 'click').mockImplementation(function (this: HTMLInputElement) {
    accepted.push(`${this.type} ${this.accept}`)
    answer(this)
  })
  return accepted
}

describe('files in a browser without file pickers', () => {
  it('come through a file input', async () => {
    const accepted = answerDialogue((input) => {
      const chosen = new DataTransfer()
      chosen.items.add(new File([text], 'north.json'))
      input.files = chosen.files
      input.dispatchEvent(new Event('change'))
    })
    const opened = await pickSiteFile(browserFiles(plainWindow))
    expect(opened).toMatchObject({
      ok: true,
      value: { site: plainSite, fileName: 'north.json', handle: null },
    })
    expect(accepted).toEqual(['file .json,.zip,application/json,application/zip'])
  })

  it('come not at all when the user closes the dialogue', async () => {
    answerDialogue((input) => input.dispatchEvent(new Event('cancel')))
    expect(await pickSiteFile(browserFiles(plainWindow))).toBeNull()
  })

  it('go out as a download of the whole text', async () => {
    const downloads: { name: string; content: Promise<string> }[] = []
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
      downloads.push({ name: this.download, content: fetch(this.href).then((response) => response.text()) })
    })
    const saved = await saveSiteFile(plainSite, null, browserFiles(plainWindow))
    expect(saved).toMatchObject({ ok: true, value: { isWritten: false } })
    expect(downloads.map(({ name }) => name)).toEqual(['North field.json'])
    expect(await downloads[0].content).toBe(text)
  })
})

describe('files in a browser with file pickers', () => {
  it('are asked for by kind and under a name', async () => {
    const asked: unknown[] = []
    const handle = { name: 'a.json' } as FileSystemFileHandle
    const page = {
      document,
      showOpenFilePicker: async (options: unknown) => (asked.push(options), [handle]),
      showSaveFilePicker: async (options: unknown) => (asked.push(options), handle),
    }
    const files = browserFiles(page as unknown as Window)
    expect(await files.openHandle?.()).toBe(handle)
    expect(await files.saveHandle?.('North field.json')).toBe(handle)
    expect(await files.saveHandle?.('North field.zip', 'zip')).toBe(handle)
    const description = 'Groundweave site'
    const [json, zip] = [{ 'application/json': ['.json'] }, { 'application/zip': ['.zip'] }]
    expect(asked).toEqual([
      { types: [{ description, accept: { ...json, ...zip } }] },
      { types: [{ description, accept: json }], suggestedName: 'North field.json' },
      { types: [{ description, accept: zip }], suggestedName: 'North field.zip' },
    ])
  })
})
