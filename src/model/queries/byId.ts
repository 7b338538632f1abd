interface Named<K> {
  readonly id: K
}

const known = new WeakMap<object, ReadonlyMap<unknown, unknown>>()

/**
 * Look-up by id in a list that is never changed in place. The map is made once per list and found again by
 * the list's identity: cost O(items) the first time, O(1) afterwards. Meant for rows, types, conductors and
 * the like (at most some 100,000), never for single tables, parts or joints. Of equal ids the first counts.
 */
export function byId<K, T extends Named<K>>(list: readonly (T & Named<K>)[]): ReadonlyMap<K, T> {
  let map = known.get(list)
  if (!map) {
    const made = new Map<K, T>()
    for (const item of list) if (!made.has(item.id)) made.set(item.id, item)
    map = made
    known.set(list, map)
  }
  return map as ReadonlyMap<K, T>
}
