/** Names by id as a field for choices takes them, in the order of the ids. */
export function optionsOf<Id extends string>(
  names: Readonly<Record<Id, string>>,
  ids: readonly Id[] = Object.keys(names) as Id[],
): readonly { readonly id: Id; readonly label: string }[] {
  return ids.map((id) => ({ id, label: names[id] }))
}
