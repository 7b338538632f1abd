import { siteFileKind } from '../text/storageText.ts'

/** `json`: a site; `zip`: one with its photos. */
export type FileKind = 'json' | 'zip'

/** The ways in which a browser hands files in and out; a test hands in its own. */
export interface FileEnvironment {
  /** Null where the browser cannot open files in place; rejects with AbortError when the user cancels. */
  readonly openHandle: (() => Promise<FileSystemFileHandle>) | null
  readonly saveHandle: ((suggestedName: string, kind?: FileKind) => Promise<FileSystemFileHandle>) | null
  /** The way of all browsers: null when the user cancels. */
  readonly chooseFile: () => Promise<File | null>
  readonly download: (content: Blob, fileName: string) => void
}

interface PickerOptions {
  readonly types: readonly {
    readonly description: string
    readonly accept: Record<string, readonly string[]>
  }[]
  readonly suggestedName?: string
}

// Not yet in the library of DOM types: the standard is a draft that some browsers leave out.
interface PickerWindow {
  readonly showOpenFilePicker?: (options: PickerOptions) => Promise<FileSystemFileHandle[]>
  readonly showSaveFilePicker?: (options: PickerOptions) => Promise<FileSystemFileHandle>
}

const ending = '.json'
const accepted = { json: { 'application/json': [ending] }, zip: { 'application/zip': ['.zip'] } }
const types = [{ description: siteFileKind, accept: { ...accepted.json, ...accepted.zip } }]
const typesOf = (kind: FileKind) => [{ description: siteFileKind, accept: accepted[kind] }]
/** Long enough for any browser to have begun a download, which holds the content from then on. */
const downloadGraceMs = 60_000

export function browserFiles(page: Window = window): FileEnvironment {
  const { showOpenFilePicker, showSaveFilePicker } = page as unknown as PickerWindow
  return {
    openHandle: showOpenFilePicker ? async () => (await showOpenFilePicker.call(page, { types }))[0] : null,
    saveHandle: showSaveFilePicker
      ? (suggestedName, kind = 'json') =>
          showSaveFilePicker.call(page, { types: typesOf(kind), suggestedName })
      : null,
    chooseFile: () => chooseByInput(page.document),
    download: (content, fileName) => downloadByLink(page.document, content, fileName),
  }
}

function chooseByInput(document: Document): Promise<File | null> {
  return new Promise((resolve) => {
    const input = document.createElement('input')
    input.type = 'file'
    input.accept = `${ending},.zip,application/json,application/zip`
    input.addEventListener('change', () => resolve(input.files?.[0] ?? null))
    input.addEventListener('cancel', () => resolve(null))
    input.click()
  })
}

function downloadByLink(document: Document, content: Blob, fileName: string): void {
  const address = URL.createObjectURL(content)
  const link = document.createElement('a')
  link.href = address
  link.download = fileName
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), downloadGraceMs)
}
