import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { checkSite } from '../model/checkSite.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { siteFormat, siteSchema, siteVersion } from '../model/schema/site.ts'
import { checkShape } from '../model/shape/checkShape.ts'
import { describeFound } from '../model/shape/describeFound.ts'
import type { PlainDocument } from './migrations/migration.ts'
import { migrate } from './migrations/chain.ts'
import { parseJson } from './parseJson.ts'

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
