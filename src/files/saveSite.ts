import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import { limits } from '../model/limits.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { siteSchema } from '../model/schema/site.ts'
import { inSchemaOrder } from './inSchemaOrder.ts'

/** Objects written with a line per key, and lists with a line per item; all else stands on one line. */
const opened: ReadonlySet<string> = new Set([
  '',
  'drawing',
  'record',
  'drawing.plans.*',
  'drawing.plans.*.pairs',
])
const isOpened = (path: string) => opened.has(path) || /^drawing\.[a-zA-Z]+$/.test(path)
/** Facts of the whole site are short and few. */
const closed: ReadonlySet<string> = new Set(['drawing.facts', 'drawing.nextIds'])

function write(
  value: unknown,
  path: string,
  indent: string,
  lines: string[],
  before: string,
  after: string,
): void {
  const isNode = typeof value === 'object' && value !== null
  if (!isNode || closed.has(path) || !isOpened(path)) {
    lines.push(`${before}${JSON.stringify(value)}${after}`)
    return
  }
  const [open, close] = Array.isArray(value) ? '[]' : '{}'
  const items: [string, unknown, string][] = Array.isArray(value)
    ? value.map((item) => ['', item, `${path}.*`])
    : Object.entries(value).map(([key, item]) => [
        `${JSON.stringify(key)}: `,
        item,
        path === '' ? key : `${path}.${key}`,
      ])
  if (items.length === 0) {
    lines.push(`${before}${open}${close}${after}`)
    return
  }
  lines.push(`${before}${open}`)
  items.forEach(([label, item, itemPath], k) => {
    const comma = k < items.length - 1 ? ',' : ''
    write(item, itemPath, `${indent}  `, lines, `${indent}  ${label}`, comma)
  })
  lines.push(`${indent}${close}${after}`)
}

/**
 * The text of a site file: keys in the order of the schema, a line for each row, conductor, record entry and
 * so on, so that two files compare line by line. The same site always gives the same bytes, and opening a
 * file that was saved here and saving it again changes none.
 */
export function saveSite(site: Site): string {
  const lines: string[] = []
  write(inSchemaOrder(siteSchema, site), '', '', lines, '', '')
  return `${lines.join('\n')}\n`
}

/**
 * The bytes of a site file, as `saveSite` writes it; a problem where they are more than `openSite` takes, so that
 * nothing is saved that could not be opened again.
 */
export function siteFileBytes(site: Site): Result<Uint8Array<ArrayBuffer>, Problem> {
  const bytes = new TextEncoder().encode(saveSite(site))
  if (bytes.byteLength > limits.fileBytes) {
    return fail(problem('file.tooLongToSave', { bytes: bytes.byteLength, mostBytes: limits.fileBytes }))
  }
  return ok(bytes)
}
