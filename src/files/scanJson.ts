import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'

export interface JsonScan {
  /** Number of `"key":` pairs in the text. */
  readonly keys: number
}

const quote = 0x22
const backslash = 0x5c
const lineFeed = 0x0a

/**
 * Counts values and nesting of JSON before it is parsed, so that a file of millions of brackets is refused
 * instead of filling the memory. One pass over the bytes, outside strings only; every byte that it looks
 * for is below 128 and so cannot be part of a longer UTF-8 character. Knows nothing of validity.
 */
export function scanJson(bytes: Uint8Array): JsonScan | Problem {
  let depth = 0
  let values = 1
  let keys = 0
  let line = 1
  let lineStart = 0
  let inString = false
  for (let k = 0; k < bytes.length; k++) {
    const byte = bytes[k]
    if (inString) {
      if (byte === backslash) k++
      else if (byte === quote) inString = false
      continue
    }
    switch (byte) {
      case quote:
        inString = true
        break
      case lineFeed:
        line++
        lineStart = k + 1
        break
      case 0x2c: // ,
        values++
        break
      case 0x3a: // :
        keys++
        break
      case 0x5b: // [
      case 0x7b: // {
        values++
        depth++
        if (depth > limits.fileDepth) {
          const facts = { what: 'levels of nesting', found: depth, most: limits.fileDepth }
          return problem('size.tooMany', facts, { line, column: k - lineStart + 1 })
        }
        break
      case 0x5d: // ]
      case 0x7d: // }
        depth--
        break
    }
  }
  if (values > limits.fileValues) {
    return problem('size.tooMany', { what: 'values in the file', found: values, most: limits.fileValues })
  }
  return { keys }
}

export function isProblem(scan: JsonScan | Problem): scan is Problem {
  return 'code' in scan
}
