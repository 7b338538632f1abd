const mostCharacters = 60

/** A JSON value in a few words, for the sentence that says it is wrong: never its whole content. */
export function describeFound(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (value === null) return 'null'
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`
  if (typeof value === 'object') return 'an object'
  if (typeof value === 'number' && !Number.isFinite(value)) return 'a number too large to hold'
  if (typeof value !== 'string') return JSON.stringify(value)
  return value.length <= mostCharacters ? `"${value}"` : `"${value.slice(0, mostCharacters)}…"`
}
