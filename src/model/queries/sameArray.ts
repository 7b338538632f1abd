import type { Drawing } from '../schema/drawing.ts'

const besideTheArray: ReadonlySet<keyof Drawing> = new Set([
  'plans',
  'sources',
  'devices',
  'lessons',
  'revision',
  'parent',
])

/**
 * Whether two drawings have the same array, by identity of their lists: what is planned on it, what may fault onto it, lessons
 * and the revision do not count. What was worked out from the one holds for the other. O(lists).
 */
export function isSameArray(a: Drawing, b: Drawing): boolean {
  const keys = Object.keys(a) as (keyof Drawing)[]
  return keys.every((key) => besideTheArray.has(key) || a[key] === b[key])
}
