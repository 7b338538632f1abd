import type { Bytes } from './siteRows.ts'

export interface CopyFile {
  readonly facts: Readonly<Record<string, string>>
  /** Read only when asked for. */
  readonly bytes: () => Promise<Bytes>
}

/**
 * A second copy of what was saved, in another part of the browser's storage than the database. A browser that finds its
 * database damaged may delete all of it without asking, as Chromium does when it was killed twice at bad moments (see
 * docs/keeping.md); what lies here then brings the sites and photos back. Null where the browser has none.
 */
export interface CopyFiles {
  /** Replaces what had this name. */
  put(name: string, bytes: Bytes, facts: Readonly<Record<string, string>>): Promise<void>
  get(name: string): Promise<CopyFile | null>
  names(): Promise<readonly string[]>
  remove(name: string): Promise<void>
}

/** Only a name: nothing is ever asked of it. */
const root = 'https://copies.invalid/'
const prefix = 'groundweave-'

/** Copies in the browser's store of responses, which keeps each in files of its own. */
export function cachedCopies(databaseName: string): CopyFiles | null {
  // Pages that were not opened over https or from this device have none, and neither have pages from a file.
  const stores = (globalThis as { caches?: CacheStorage }).caches
  if (!stores || !/^https?:$/.test(globalThis.location?.protocol ?? '')) return null
  const open = () => stores.open(`${databaseName} second copies`)
  const address = (name: string) => root + name
  return {
    async put(name, bytes, facts) {
      const headers = new Headers()
      for (const [key, fact] of Object.entries(facts)) headers.set(prefix + key, encodeURIComponent(fact))
      await (await open()).put(address(name), new Response(bytes, { headers }))
    },
    async get(name) {
      const found = await (await open()).match(address(name))
      if (!found) return null
      const facts: Record<string, string> = {}
      found.headers.forEach((fact, key) => {
        if (key.startsWith(prefix)) facts[key.slice(prefix.length)] = decodeURIComponent(fact)
      })
      return { facts, bytes: async () => new Uint8Array(await found.arrayBuffer()) }
    },
    async names() {
      return (await (await open()).keys()).map(({ url }) => url.slice(root.length))
    },
    async remove(name) {
      await (await open()).delete(address(name))
    },
  }
}

/** One site as it was last saved. */
export interface SecondCopy {
  readonly id: string
  readonly text: Bytes
  readonly generation: number
}

/** The second copies of sites and photos. Where they cannot be written or read, there are none: nothing else fails. */
export class SecondCopies {
  readonly #files: CopyFiles | null
  readonly #sha256: (bytes: Bytes) => Promise<string>

  constructor(files: CopyFiles | null, sha256: (bytes: Bytes) => Promise<string>) {
    this.#files = files
    this.#sha256 = sha256
  }

  // Two places in turn: while one is being written the other is whole.
  async putSite(id: string, text: Bytes, generation: number): Promise<void> {
    await this.#put(`sites/${id}/${generation % 2}`, text, { generation: String(generation) })
  }

  async removeSite(id: string): Promise<void> {
    for (const slot of [0, 1]) await this.#files?.remove(`sites/${id}/${slot}`).catch(() => undefined)
  }

  /**
   * The newest sound copy of each site of which there is a newer one than of `known` generation; those that are not
   * newer are not read.
   */
  async newerSites(known: (id: string) => number): Promise<readonly SecondCopy[]> {
    const newest = new Map<string, SecondCopy>()
    for (const name of await this.#names('sites/')) {
      const [, id] = name.split('/')
      const least = newest.get(id)?.generation ?? known(id)
      const found = await this.#get(name, (facts) => Number(facts['generation']) > least)
      if (found) newest.set(id, { id, text: found.bytes, generation: Number(found.facts['generation']) })
    }
    return [...newest.values()]
  }

  /** The copy of one save of a site, known by its checksum. */
  async site(id: string, generation: number, sha256: string): Promise<Bytes | null> {
    const found = await this.#get(`sites/${id}/${generation % 2}`, (facts) => facts['sha256'] === sha256)
    return found?.bytes ?? null
  }

  putPhoto(sha256: string, bytes: Bytes): Promise<void> {
    return this.#put(`photos/${sha256}`, bytes, {})
  }

  async photo(sha256: string): Promise<Bytes | null> {
    return (await this.#get(`photos/${sha256}`))?.bytes ?? null
  }

  async removePhoto(sha256: string): Promise<void> {
    await this.#files?.remove(`photos/${sha256}`).catch(() => undefined)
  }

  async #put(name: string, bytes: Bytes, facts: Readonly<Record<string, string>>): Promise<void> {
    try {
      await this.#files?.put(name, bytes, { ...facts, sha256: await this.#sha256(bytes) })
    } catch {
      // no room or no permission: the first copy stands alone
    }
  }

  async #get(name: string, isWanted: (facts: CopyFile['facts']) => boolean = () => true) {
    try {
      const found = (await this.#files?.get(name)) ?? null
      if (!found || !isWanted(found.facts)) return null
      const { facts } = found
      const bytes = await found.bytes()
      return (await this.#sha256(bytes)) === facts['sha256'] ? { facts, bytes } : null
    } catch {
      return null
    }
  }

  async #names(start: string): Promise<readonly string[]> {
    try {
      return ((await this.#files?.names()) ?? []).filter((name) => name.startsWith(start))
    } catch {
      return []
    }
  }
}
