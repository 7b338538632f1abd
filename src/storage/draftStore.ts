import { inTransaction, resultOf } from './transactions.ts'

/**
 * What is being typed of a reading, a text per site. It is kept while one types, so it does not wait until the
 * disk has it: a page that ends loses nothing, a device that loses its power may lose the last seconds. It stands for no
 * work that was entered; where it cannot be kept, nothing is said.
 */
export class DraftStore {
  readonly #database: IDBDatabase

  constructor(database: IDBDatabase) {
    this.#database = database
  }

  /** The text that is kept for a site; null where there is none or it cannot be read. */
  async get(siteId: string): Promise<string | null> {
    try {
      const found = await inTransaction(this.#database, ['drafts'], 'readonly', (stores) =>
        resultOf(stores('drafts').get(siteId) as IDBRequest<unknown>),
      )
      return typeof found === 'string' ? found : null
    } catch {
      return null
    }
  }

  /**
   * Keeps the text of a site in place of the one before; null keeps none. Writes come in the order of the calls. Each is
   * handed over and committed before this returns, so that one made while the page ends is carried out, too.
   */
  async put(siteId: string, text: string | null): Promise<void> {
    const put = (stores: (name: 'drafts') => IDBObjectStore) => {
      const store = stores('drafts')
      if (text === null) store.delete(siteId)
      else store.put(text, siteId)
      store.transaction.commit()
      return Promise.resolve()
    }
    await inTransaction(this.#database, ['drafts'], 'readwrite', put, 'relaxed').catch(() => undefined)
  }
}
