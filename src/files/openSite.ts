import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { checkSite } from '../model/checkSite.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { siteFormat, siteSchema, siteVersion } from '../model/schema/site.ts'
import { checkShape } from '../model/shape/checkShape.ts'
import { describeFound } from '../model/shape/describeFound.ts'
import { findJsonFault, findRepeatedKey } from './jsonFault.ts'
import type { PlainDocument } from './migrations/chain.ts'
import { migrate } from './migrations/chain.ts'
import { isProblem, scanJson } from './scanJson.ts'

type Opened<T> = Result<T, readonly Problem[]>

/**
 * Turns the bytes of a file into a site, or says what is wrong with them (at most 50 problems, each with its
 * place). In order: size, UTF-8, JSON, format and version, migration, schema, and what no schema can say.
 * Nothing is opened in part, and a file of a newer version is refused. Cost O(bytes); memory is bounded by
 * `limits` before anything is parsed.
 *
 * Addresses of record and plans that name nothing in the drawing do not keep a file from opening: see
 * `siteNotices`.
 */
export function openSite(bytes: Uint8Array, fileName: string): Opened<Site> {
  const opened = openBytes(bytes)
  if (opened.ok) return opened
  const inFile = ({ where, ...rest }: Problem) =>
    ({ ...rest, where: { file: fileName, ...where } }) as Problem
  return fail(opened.error.map(inFile))
}

function openBytes(bytes: Uint8Array): Opened<Site> {
  const parsed = parseJson(bytes)
  if (!parsed.ok) return parsed
  const migrated = openEnvelope(parsed.value)
  if (!migrated.ok) return migrated
  const misshapen = checkShape(siteSchema, migrated.value)
  if (misshapen.length > 0) return fail(misshapen)
  const site = siteSchema.parse(migrated.value)
  const wrong = checkSite(site)
  return wrong.length > 0 ? fail(wrong) : ok(site)
}

function parseJson(bytes: Uint8Array): Opened<unknown> {
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

function openEnvelope(value: unknown): Opened<PlainDocument> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return fail([problem('file.notASite', { found: describeFound(value) })])
  }
  const document = value as PlainDocument
  const format = Object.hasOwn(document, 'format') ? document.format : undefined
  if (format !== siteFormat) return fail([problem('file.notASite', { found: describeFound(format) })])
  const version = Object.hasOwn(document, 'version') ? document.version : undefined
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return fail([problem('file.badVersion', { found: describeFound(version) })])
  }
  if (version > siteVersion) return fail([problem('file.newerVersion', { version, known: siteVersion })])
  return ok(migrate(document, version))
}
