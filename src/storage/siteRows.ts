import { textsOf } from './generations.ts'
import type { BinRow, SiteRow } from './storedSite.ts'
import { resultOf, type siteStoreNames } from './transactions.ts'

export type Stores = (name: (typeof siteStoreNames)[number]) => IDBObjectStore
export type Bytes = Uint8Array<ArrayBuffer>

export interface RowAndTexts {
  readonly row: SiteRow
  /** Bytes by the key of the copy; a text that is missing has none. */
  readonly texts: ReadonlyMap<string, Bytes>
}

export function getRow(stores: Stores, id: string): Promise<SiteRow | undefined> {
  return resultOf(stores('sites').get(id) as IDBRequest<SiteRow | undefined>)
}

export function getRows(stores: Stores): Promise<SiteRow[]> {
  return resultOf(stores('sites').getAll() as IDBRequest<SiteRow[]>)
}

export function getBinned(stores: Stores, key: string): Promise<BinRow | undefined> {
  return resultOf(stores('bin').get(key) as IDBRequest<BinRow | undefined>)
}

export function getBin(stores: Stores): Promise<BinRow[]> {
  return resultOf(stores('bin').getAll() as IDBRequest<BinRow[]>)
}

export async function withTexts(stores: Stores, row: SiteRow): Promise<RowAndTexts> {
  const texts = new Map<string, Bytes>()
  for (const key of textsOf(row)) {
    const text = await resultOf(stores('texts').get(key) as IDBRequest<unknown>)
    if (text instanceof Uint8Array) texts.set(key, text as Bytes)
  }
  return { row, texts }
}

export function eraseBinned(stores: Stores, binned: BinRow): void {
  for (const key of textsOf(binned.site)) stores('texts').delete(key)
  stores('bin').delete(binned.key)
}
