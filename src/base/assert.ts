/** A bug, not bad input: throws a sentence when what the program relies on does not hold. */
export function assert(condition: boolean, sentence: string): asserts condition {
  if (!condition) throw new Error(`Internal error: ${sentence}`)
}

/** Returns the value, or throws when it is missing: for look-ups that cannot fail unless the program is wrong. */
export function present<T>(value: T | undefined | null, sentence: string): T {
  if (value === undefined || value === null) throw new Error(`Internal error: ${sentence}`)
  return value
}

/** Compile-time proof that a switch is complete. */
export function unreachable(value: never): never {
  throw new Error(`Internal error: unexpected value ${JSON.stringify(value)}`)
}
