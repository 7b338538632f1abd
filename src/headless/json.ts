import { assert } from '../base/assert.ts'

/**
 * An answer as one JSON document. JSON knows no infinity: an infinite number is written as the string
 * "infinite", in every field that holds ohms. NaN does not occur in answers and is a bug.
 */
export function toJson(answer: unknown, indent?: number): string {
  return JSON.stringify(answer, asJson, indent)
}

function asJson(key: string, value: unknown): unknown {
  if (typeof value !== 'number' || Number.isFinite(value)) return value
  assert(value === Infinity, `${key} is ${value}, which no answer may hold`)
  return 'infinite'
}
