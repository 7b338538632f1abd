import { fail, ok } from '../base/result.ts'
import type { Result } from '../base/result.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'

export interface DecodedText {
  readonly text: string
  readonly encoding: 'utf-8' | 'utf-16' | 'windows-1252'
}

/**
 * Text of a file that a spreadsheet may have written: UTF-8 or UTF-16 by their marks, else UTF-8, else the old western
 * code page, in which every byte is a letter. A file with NUL characters is no text.
 */
export function decodeText(bytes: Uint8Array): Result<DecodedText, Problem> {
  if (bytes.byteLength > limits.fileBytes) {
    return fail(problem('file.tooLarge', { bytes: bytes.byteLength, mostBytes: limits.fileBytes }))
  }
  const decoded = decode(bytes)
  if (decoded.text.trim() === '') return fail(problem('file.empty', {}))
  return decoded.text.includes('\0') ? fail(problem('file.notTable', {})) : ok(decoded)
}

function decode(bytes: Uint8Array): DecodedText {
  const [first, second] = bytes
  if (first === 0xff && second === 0xfe) return { text: read(bytes, 'utf-16le'), encoding: 'utf-16' }
  if (first === 0xfe && second === 0xff) return { text: read(bytes, 'utf-16be'), encoding: 'utf-16' }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'utf-8' }
  } catch {
    return { text: read(bytes, 'windows-1252'), encoding: 'windows-1252' }
  }
}

function read(bytes: Uint8Array, label: string): string {
  return new TextDecoder(label).decode(bytes)
}
