import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import { findJsonFault, findRepeatedKey } from './jsonFault.ts'
import { isProblem, scanJson } from './scanJson.ts'

/**
 * The value of a JSON document, or what is wrong with it: length, UTF-8, depth and number of values (before anything is
 * parsed), JSON with the place of its fault, keys that stand twice. O(bytes).
 */
export function parseJson(bytes: Uint8Array): Result<unknown, readonly Problem[]> {
  if (bytes.byteLength > limits.fileBytes) {
    return fail([problem('file.tooLarge', { bytes: bytes.byteLength, mostBytes: limits.fileBytes })])
  }
  const text = decodeUtf8(bytes)
  if (text === null) return fail([problem('file.notText', {})])
  if (text.trim() === '') return fail([problem('file.empty', {})])
  const scan = scanJson(bytes)
  if (isProblem(scan)) return fail([scan])
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    const fault = findJsonFault(text)
    if (!fault) throw error
    const { reason, truncated, line, column } = fault
    return fail([problem('file.notJson', { reason, truncated }, { line, column })])
  }
  if (countKeys(value) !== scan.keys) {
    const repeated = findRepeatedKey(text)
    if (repeated) {
      const { key, line, column } = repeated
      return fail([problem('reference.duplicateId', { what: 'key', id: key }, { line, column })])
    }
  }
  return ok(value)
}

/**
 * The text of the bytes without a byte order mark, or null where they are no UTF-8. A last character of which
 * bytes are missing is left off: a file that ends so was cut off, and its JSON is not complete either.
 */
function decodeUtf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true })
  } catch {
    return null
  }
}

/** Keys of all objects in a parsed document; its depth has been bounded before. */
function countKeys(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 0
  let keys = 0
  if (Array.isArray(value)) {
    for (const item of value) keys += countKeys(item)
    return keys
  }
  for (const item of Object.values(value)) keys += 1 + countKeys(item)
  return keys
}
