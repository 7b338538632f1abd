import type { ItemOf, SectionName } from '../checks/sections.ts'
import { sections } from '../checks/sections.ts'
import { byId } from '../queries/byId.ts'
import type { Drawing, NextIds } from '../schema/drawing.ts'
import type { Problem } from '../problem.ts'
import type { Site } from '../schema/site.ts'
import type { Edit } from './edit.ts'
import { asEdit, commitDrawing, notThere, replaceItem, takeId } from './edit.ts'
import { releaseLost } from './releaseLost.ts'

/*
 * Adding, changing and removing items works the same in every list; the files beside this one give these
 * edits their names and what is special about each.
 */

type CountedName = {
  [K in SectionName]: ItemOf<K> extends { readonly id: number } ? K : never
}[SectionName]
type NamedName = {
  [K in SectionName]: ItemOf<K> extends { readonly id: string } ? K : never
}[SectionName]

/** Fields of an item without its id; of each form by itself where an item has several. */
export type WithoutId<T> = T extends unknown ? Omit<T, 'id'> : never

type Can<A> = (site: Site, args: A) => true | Problem
interface CanAndEdit<A> {
  readonly can: Can<A>
  readonly edit: (args: A) => Edit
}

type Items<K extends SectionName> = readonly ItemOf<K>[]
const itemsOf = <K extends SectionName>(drawing: Drawing, name: K) => drawing[name] as unknown as Items<K>

/** Adds an item with the next id of its counter. */
export function addingCounted<K extends CountedName>(name: K): CanAndEdit<WithoutId<ItemOf<K>>> {
  const counter = sections[name].counter as keyof NextIds
  return asEdit((site, fields) => {
    const [id, counted] = takeId(site.drawing, counter)
    return commitDrawing(site, { ...counted, [name]: [...site.drawing[name], { id, ...fields }] })
  })
}

/** Adds an item with a short name of its own, which no other in the list may have. */
export function addingNamed<K extends NamedName>(name: K): CanAndEdit<ItemOf<K>> {
  return asEdit((site, item) => commitDrawing(site, { [name]: [...site.drawing[name], item] }))
}

export interface ChangeItem<T extends { readonly id: number | string }> {
  readonly id: T['id']
  readonly changes: Partial<WithoutId<T>>
}

/** Changes fields of an item; its id stays. */
export function changingItem<K extends CountedName | NamedName>(name: K): CanAndEdit<ChangeItem<ItemOf<K>>> {
  return asEdit((site, { id, changes }) => {
    const items = itemsOf(site.drawing, name) as readonly { readonly id: number | string }[]
    const old = byId<number | string, { readonly id: number | string }>(items).get(id)
    if (!old) return notThere(sections[name].what, id)
    return commitDrawing(site, { [name]: replaceItem(items, old, { ...changes, id }) })
  })
}

/**
 * Removes an item and lets go what was fastened to it (see `releaseLost`). `refuse` may say why it has to stay.
 */
export function removingItem<K extends CountedName | NamedName>(
  name: K,
  refuse: (site: Site, id: ItemOf<K>['id']) => Problem | null = () => null,
): CanAndEdit<{ readonly id: ItemOf<K>['id'] }> {
  return asEdit((site, { id }) => {
    const items = itemsOf(site.drawing, name) as readonly { readonly id: number | string }[]
    const old = byId<number | string, { readonly id: number | string }>(items).get(id)
    if (!old) return notThere(sections[name].what, id)
    const refused = refuse(site, id)
    if (refused) return { ok: false, error: refused }
    const left = items.filter((item) => item !== old)
    return commitDrawing(site, releaseLost({ ...site.drawing, [name]: left }))
  })
}
