import { createHash } from 'node:crypto'
import type { BrowserContext, Page } from 'playwright'
import { openSite } from '../../src/files/openSite.ts'
import { isZip } from '../../src/files/zip.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { unpackSite, type UnpackedSite } from '../../src/storage/sitePack.ts'

export const sha256Of = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')

export const readingsOf = ({ record }: Pick<Site, 'record'>): EntryOf<'reading'>[] =>
  record.filter((entry) => entry.entry === 'reading')

/** Pages of the context hand files out as a browser without a file dialogue of its own does: by a download. */
export async function givesFiles(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'))
}

/** Opens a visit from the card at the head of Measure; `fill` does what else is noted in its form. */
export async function openVisit(page: Page, fill?: () => Promise<void>): Promise<void> {
  const card = page.getByRole('tabpanel').getByRole('region', { name: 'Visit' })
  await card.getByRole('button', { name: 'Open a visit' }).click()
  await card.getByRole('textbox', { name: 'Who measures' }).fill('A. Rowan')
  await fill?.()
  await card.getByRole('button', { name: 'Open the visit' }).click()
  await card.getByText(/^A\. Rowan · /).waitFor()
}

export async function chooseEnd(
  page: Page,
  name: 'From' | 'To' | 'Electrode',
  address: string,
): Promise<void> {
  await page.getByRole('combobox', { name, exact: true }).fill(address)
  await page.keyboard.press('Enter')
}

/** The site as "Save to a file" of the list of sites gives it, its photos with it. */
export async function savedSite(page: Page): Promise<UnpackedSite> {
  await page.getByRole('button', { name: /^Open the list of sites/ }).click()
  const dialog = page.getByRole('dialog', { name: 'Sites' })
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    dialog.getByRole('button', { name: 'Save to a file' }).click(),
  ])
  const chunks: Buffer[] = []
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer)
  await page.keyboard.press('Escape')
  await dialog.waitFor({ state: 'hidden' })
  return unpacked(new Uint8Array(Buffer.concat(chunks)), download.suggestedFilename())
}

async function unpacked(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<UnpackedSite> {
  if (isZip(bytes)) {
    const pack = await unpackSite(bytes, name, (piece) => Promise.resolve(sha256Of(piece)))
    if (!pack.ok) throw new Error(JSON.stringify(pack.error))
    return pack.value
  }
  const site = openSite(bytes, name)
  if (!site.ok) throw new Error(JSON.stringify(site.error))
  return { site: site.value, photos: [], notes: [] }
}

/** The newest copy of the one site that the browser keeps, read past the program from its database. */
export async function keptRecord(page: Page): Promise<Pick<Site, 'record'>> {
  const text = await page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result)
        request.onerror = () => reject(new Error(String(request.error)))
      })
    const database = await done(indexedDB.open('groundweave'))
    const rows = (await done(database.transaction('sites').objectStore('sites').getAll())) as {
      copies: { key: string }[]
    }[]
    if (rows.length !== 1) throw new Error(`${rows.length} sites are kept`)
    const bytes = (await done(
      database.transaction('texts').objectStore('texts').get(rows[0].copies[0].key),
    )) as Uint8Array
    database.close()
    return new TextDecoder().decode(bytes)
  })
  return JSON.parse(text) as Site
}
