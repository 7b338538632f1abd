/** What the start page tells about a demo site: as much as its file says plainly. */
export interface DemoSite {
  /** Name of the file in demo-data/. */
  readonly file: string
  /** Where the page can get the file. */
  readonly address: string
  readonly name: string
  readonly rows?: number
  readonly entries?: number
}

/** Reads name and counts out of the text of a site file; what cannot be read is left out, never guessed. */
export function readDemoSite(file: string, address: string, text: string): DemoSite {
  const site = asRecord(parse(text))
  const rows = asRecord(site['drawing'])['rows']
  const entries = site['record']
  const name = site['name']
  return {
    file,
    address,
    name: typeof name === 'string' && name.trim() !== '' ? name : file,
    ...(Array.isArray(rows) ? { rows: rows.length } : {}),
    ...(Array.isArray(entries) ? { entries: entries.length } : {}),
  }
}

/** One sentence about the size of a demo site. */
export function demoSentence({ rows, entries }: DemoSite): string {
  const drawn = rows === undefined ? undefined : `${count(rows, 'row', 'rows')} drawn`
  const noted = entries === undefined ? undefined : `${count(entries, 'entry', 'entries')} in the record`
  const facts = [drawn, noted].filter((fact) => fact !== undefined)
  return facts.length > 0 ? `${facts.join(', ')}.` : 'The page cannot read what is in this file.'
}

function count(n: number, one: string, many: string): string {
  return `${n.toLocaleString('en')} ${n === 1 ? one : many}`
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

function asRecord(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
