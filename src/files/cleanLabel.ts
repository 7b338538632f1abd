import { limits } from '../model/limits.ts'

/**
 * A label from a foreign file: one line, without control characters or marks that turn the direction of writing, without the
 * apostrophe that keeps a spreadsheet from running it, cut to what a name may be long.
 */
export function cleanLabel(text: string): string {
  const line = text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(/[\u202a-\u202e\u2066-\u2069\u200e\u200f]/g, '')
    .replace(/\p{Cs}/gu, '')
    .trim()
    .replace(/^'(?='*[=+\-@])/, '')
  return line.length <= limits.nameLength ? line : line.slice(0, limits.nameLength).replace(/\p{Cs}/gu, '')
}

/** The same for a text of several lines, cut to what a note may be long. */
export function cleanNote(text: string): string {
  const lines = text
    .replace(/\r\n?/g, '\n')
    .replace(/[^\P{Cc}\n]+/gu, ' ')
    .replace(/[\u202a-\u202e\u2066-\u2069\u200e\u200f]/g, '')
    .replace(/\p{Cs}/gu, '')
    .trim()
    .replace(/^'(?='*[=+\-@])/, '')
  return lines.length <= limits.textLength ? lines : lines.slice(0, limits.textLength).replace(/\p{Cs}/gu, '')
}
