import type { Drawing } from '../schema/drawing.ts'

type NamingLists = Pick<Drawing, 'tableTypes' | 'rows' | 'conductors' | 'extraJoints' | 'differingJoints'>

/**
 * Every place of a drawing that names a joint kind, by the kind's id; `splice` once for every long member that has
 * one. Rows without jumpers name none.
 */
export function* namedKinds(drawing: NamingLists & Partial<Pick<Drawing, 'asBuilt'>>): Generator<string> {
  for (const { crossMembers, posts, frameBond, longMembers } of drawing.tableTypes) {
    if (crossMembers) yield crossMembers.bracketKind
    if (posts) yield* posts.bondKinds
    if (frameBond.clamps) yield frameBond.clamps.kind
    if (frameBond.links) yield frameBond.links.kind
    for (const { spliceAfter } of longMembers) if (spliceAfter.length > 0) yield 'splice'
  }
  for (const { links } of drawing.rows) if (links.count > 0) yield links.kind
  for (const { points } of drawing.conductors) {
    for (const { landing } of points) if (landing) yield landing.kind
  }
  for (const { kind } of drawing.extraJoints) yield kind
  for (const { kind } of drawing.differingJoints) if (kind !== null) yield kind
  for (const { found } of drawing.asBuilt ?? []) {
    if ('kind' in found && found.kind !== null) yield found.kind
  }
}
