import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import { checkSite, siteNotices } from '../../src/model/checkSite.ts'
import { sectionNames } from '../../src/model/checks/sections.ts'
import { newSite } from '../../src/model/newSite.ts'
import { entrySchema } from '../../src/model/schema/record.ts'
import { siteVersion } from '../../src/model/schema/site.ts'
import { schemaNode } from '../../src/model/shape/schemaNodes.ts'
import { exampleSite, uuid } from '../model/exampleSite.ts'

const folder = new URL('../fixtures/', import.meta.url)
const versions = readdirSync(folder).filter((name) => /^v[0-9]+$/.test(name))
const files = versions.flatMap((version) =>
  readdirSync(new URL(`${version}/`, folder))
    .filter((name) => name.endsWith('.json') && !name.endsWith('.saved.json'))
    .map((name) => `${version}/${name}`),
)
const read = (name: string) => readFileSync(new URL(name, folder))

/** What a file becomes when it is saved again: itself, or the golden file beside it. */
function golden(name: string): string {
  const beside = name.replace('.json', '.saved.json')
  return read(existsSync(new URL(beside, folder)) ? beside : name).toString()
}

function opened(name: string) {
  const result = openSite(read(name), name)
  if (!result.ok) throw new Error(JSON.stringify(result.error, null, 1))
  return result.value
}

describe('site files of every released version', () => {
  it('are there', () => {
    expect(versions).toHaveLength(siteVersion)
    expect(files).toEqual(expect.arrayContaining(['v1/everySection.json', 'v2/everySection.json']))
  })

  it.each(files)('%s opens and is saved as its golden file, which stays as it is from then on', (name) => {
    const text = saveSite(opened(name))
    expect(text).toBe(golden(name))
    const again = openSite(new TextEncoder().encode(text), name)
    expect(again.ok && saveSite(again.value)).toBe(text)
  })

  it('use every section of the drawing and every sort of entry', () => {
    const sites = files.map(opened)
    for (const section of sectionNames) {
      expect(sites.some(({ drawing }) => drawing[section].length > 0)).toBe(true)
    }
    const node = schemaNode(entrySchema)
    const sorts = node.is === 'choice' ? [...node.options.keys()] : []
    expect(sorts).toHaveLength(14)
    const used = new Set<unknown>(sites.flatMap(({ record }) => record.map(({ entry }) => entry)))
    expect(sorts.filter((sort) => !used.has(sort))).toEqual([])
  })

  it('that lost what was measured on open and tell', () => {
    expect(siteNotices(opened('v1/orphans.json')).map(({ where }) => where.address)).toContain('R1/T1/F1.1')
    expect(checkSite(opened('v1/orphans.json'))).toEqual([])
  })
})

describe('saving', () => {
  it('gives the same text whatever order keys were put in, a line for each item, and a line end', () => {
    const site = newSite({ id: uuid(1), revision: uuid(2), name: 'x', units: 'us' })
    const turned = Object.fromEntries(Object.entries(site).reverse()) as unknown as typeof site
    expect(saveSite(turned)).toBe(saveSite(site))
    const text = saveSite(exampleSite())
    expect(text.endsWith('}\n')).toBe(true)
    const lines = text.split('\n')
    for (const item of [...exampleSite().drawing.rows, ...exampleSite().record]) {
      const start = `    {"id":${JSON.stringify(item.id)},`
      expect(lines.some((line) => line.startsWith(start) || line.startsWith(`  ${start}`))).toBe(true)
    }
  })

  it('changes one line for one entry that is added or one row that changes', () => {
    const site = exampleSite()
    const shorter = { ...site, record: site.record.slice(0, -1) }
    const [less, more] = [shorter, site].map((s) => saveSite(s).split('\n'))
    expect(
      more.filter((line) => !less.includes(line) && !less.includes(line.replace(/,$/, ''))),
    ).toHaveLength(1)
    const rows = site.drawing.rows.with(1, { ...site.drawing.rows[1], gapM: 9 })
    const moved = saveSite({ ...site, drawing: { ...site.drawing, rows } }).split('\n')
    expect(moved).toHaveLength(more.length)
    expect(moved.filter((line, k) => line !== more[k])).toHaveLength(1)
  })
})
