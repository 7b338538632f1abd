import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import { listedIndex, photoTypeOf, type KeptPhoto, type PhotoRow, type PhotoType } from './photoRows.ts'
import type { SecondCopies } from './secondCopies.ts'
import type { Bytes } from './siteRows.ts'
import { localInstant, type StoreWorld } from './storageEnvironment.ts'
import { storageProblem } from './storageProblem.ts'
import { eachOf, inTransaction, resultOf, type StoreName } from './transactions.ts'

export type { KeptPhoto } from './photoRows.ts'

type Stores = (name: StoreName) => IDBObjectStore

/**
 * The photos that are kept on this device, each under the SHA-256 of its bytes. One photo lies there once, however
 * many entries and sites name it. It stays while any text that is kept names it: a site, a copy of one, an earlier
 * version, one in the bin, or a draft of a reading.
 */
export class PhotoStore {
  readonly #database: IDBDatabase
  readonly #world: StoreWorld
  readonly #copies: SecondCopies
  /** Photos whose bytes were found not to have their SHA-256 any more. */
  readonly #damaged = new Set<string>()

  constructor(database: IDBDatabase, world: StoreWorld, copies: SecondCopies) {
    this.#database = database
    this.#world = world
    this.#copies = copies
  }

  /**
   * Keeps a photo and gives its SHA-256; resolves only when it is on the disk, so that an entry may name it. One
   * that is there already stays as it is. Refused: what is no photo by its first bytes, or is longer than
   * `limits.photoBytes`: it has to be made smaller before.
   */
  async put(bytes: Bytes): Promise<Result<string, Problem>> {
    const size = bytes.byteLength
    if (size > limits.photoBytes) {
      return fail(problem('photo.tooLarge', { bytes: size, mostBytes: limits.photoBytes }))
    }
    const type = photoTypeOf(bytes)
    if (!type) return fail(problem('photo.notAPhoto', { found: 'another sort of file' }))
    return this.#attempt('write', size, async () => {
      const sha256 = await this.#world.sha256(bytes)
      const savedAt = localInstant(this.#world.nowMs())
      await this.#transact('readwrite', ['photos'], async (stores) => {
        const known = await resultOf(stores('photos').get(sha256) as IDBRequest<PhotoRow | undefined>)
        // its length tells most damage; the rest is found when it is shown, and mended by the next put after that
        const isSound = known?.size === size && known.bytes.byteLength === size && !this.#damaged.has(sha256)
        // a copy, for a view would be kept with all that lies around it
        const row: PhotoRow = { sha256, type, size, savedAt, bytes: bytes.slice() }
        if (!isSound) stores('photos').put(row)
      })
      this.#damaged.delete(sha256)
      await this.#copies.putPhoto(sha256, bytes)
      return ok(sha256)
    })
  }

  /** The photo, its checksum held against its name, or its second copy. Fails with `photo.notThere` or `photo.damaged`. */
  get(sha256: string): Promise<Result<{ readonly bytes: Bytes; readonly type: PhotoType }, Problem>> {
    return this.#attempt('read', 0, async () => {
      const row = await this.#transact('readonly', ['photos'], (stores) =>
        resultOf(stores('photos').get(sha256) as IDBRequest<PhotoRow | undefined>),
      )
      if (row && (await this.#world.sha256(row.bytes)) === sha256) {
        return ok({ bytes: row.bytes, type: row.type })
      }
      if (row) this.#damaged.add(sha256)
      const copy = await this.#copies.photo(sha256)
      const type = copy && photoTypeOf(copy)
      if (!copy || !type) return fail(problem(row ? 'photo.damaged' : 'photo.notThere', { sha256 }))
      // the second copy becomes the first again
      await this.put(copy)
      return ok({ bytes: copy, type })
    })
  }

  has(sha256: string): Promise<Result<boolean, Problem>> {
    return this.#attempt('read', 0, async () => {
      const count = await this.#transact('readonly', ['photos'], (stores) =>
        resultOf(stores('photos').count(sha256)),
      )
      return ok(count > 0)
    })
  }

  /** All photos, the first kept first, without their bytes. */
  list(): Promise<Result<readonly KeptPhoto[], Problem>> {
    return this.#attempt('read', 0, async () => {
      const photos: KeptPhoto[] = []
      await this.#transact('readonly', ['photos'], (stores) =>
        eachOf(stores('photos').index(listedIndex.name).openKeyCursor(), ({ key, primaryKey }) => {
          const [savedAt, type, size] = key as [string, PhotoType, number]
          photos.push({ sha256: primaryKey as string, type, size, savedAt })
        }),
      )
      return ok(photos)
    })
  }

  /** Removes a photo that no text kept on this device names; fails with `photo.inUse` where one does. */
  async remove(sha256: string): Promise<Result<null, Problem>> {
    const removed = await this.#attempt('write', 0, () =>
      this.#transact(
        'readwrite',
        ['photos', 'texts', 'drafts'],
        async (stores): Promise<Result<null, Problem>> => {
          if (await isNamed(stores, sha256)) return fail(problem('photo.inUse', { sha256 }))
          stores('photos').delete(sha256)
          return ok(null)
        },
      ),
    )
    if (removed.ok) await this.#copies.removePhoto(sha256)
    return removed
  }

  #transact<T>(
    mode: 'readonly' | 'readwrite',
    names: readonly StoreName[],
    work: (stores: Stores) => Promise<T>,
  ): Promise<T> {
    return inTransaction(this.#database, names, mode, work)
  }

  async #attempt<T>(
    doing: 'read' | 'write',
    bytes: number,
    work: () => Promise<Result<T, Problem>>,
  ): Promise<Result<T, Problem>> {
    try {
      return await work()
    } catch (error) {
      return fail(storageProblem(error, { doing, name: null, bytes }, await this.#world.freeBytes()))
    }
  }
}

/** Whether the hash stands in any text or draft; sixty-four hexadecimal digits stand nowhere by chance. */
async function isNamed(stores: Stores, sha256: string): Promise<boolean> {
  let found = false
  await eachOf(stores('texts').openCursor(), ({ value }: IDBCursorWithValue) => {
    found = value instanceof Uint8Array && new TextDecoder('latin1').decode(value).includes(sha256)
    return !found
  })
  const drafts = await resultOf(stores('drafts').getAll() as IDBRequest<unknown[]>)
  return found || drafts.some((draft) => typeof draft === 'string' && draft.includes(sha256))
}
