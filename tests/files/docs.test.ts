import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import { limits } from '../../src/model/limits.ts'
import { drawingSchema } from '../../src/model/schema/drawing.ts'
import { entrySchema } from '../../src/model/schema/record.ts'
import { checkShape } from '../../src/model/shape/checkShape.ts'
import { schemaNode } from '../../src/model/shape/schemaNodes.ts'

const text = readFileSync(new URL('../../docs/site-file.md', import.meta.url), 'utf8')
const node = schemaNode(drawingSchema)
const shape = node.is === 'object' ? node.shape : {}

/** JSON examples of the page: a block holds one value, or one on every line. */
function examples(): unknown[] {
  const blocks = [...text.matchAll(/```json\n([^]*?)```/g)].map(([, block]) => block.replaceAll('…"', '"'))
  return blocks.flatMap((block) => {
    try {
      return [JSON.parse(block) as unknown]
    } catch {
      return block
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown)
    }
  })
}

const schemas = Object.entries(shape).map(([key, schema]) => {
  const inner = schemaNode(schema)
  return [key, inner.is === 'list' ? inner.item : schema] as const
})

describe('the page about the site file', () => {
  it('shows examples that are of the shape they are shown for', () => {
    const shown = new Set<string>()
    for (const example of examples().slice(1)) {
      if ('entry' in (example as object)) {
        const short = {
          ...(example as object),
          id: crypto.randomUUID(),
          device: crypto.randomUUID(),
          visit: crypto.randomUUID(),
        }
        expect(checkShape(entrySchema, short)).toEqual([])
        continue
      }
      const fitting = schemas
        .filter(([, schema]) => checkShape(schema, example).length === 0)
        .map(([key]) => key)
      expect(fitting.length, JSON.stringify(example)).toBeGreaterThan(0)
      fitting.forEach((key) => shown.add(key))
    }
    expect([...shown]).toEqual(
      expect.arrayContaining(['facts', 'jointKinds', 'tableTypes', 'rows', 'conductors', 'plans']),
    )
  })

  it('lists addresses that are read as such, and names every section', () => {
    const cells = [
      ...text.matchAll(
        /^\| ((?:`[^`]+` ?)+)\| (?!party|the same of|leads|volts|method|corrected|what|a numbered|text)/gm,
      ),
    ]
    const addresses = cells.flatMap(([, cell]) =>
      [...cell.matchAll(/`([^`]+)`/g)].map(([, address]) => address),
    )
    expect(addresses.length).toBeGreaterThan(15)
    for (const address of addresses) {
      expect(parsePartAddress(address) ?? parseJointAddress(address), address).not.toBeNull()
    }
    for (const key of Object.keys(shape)) expect(text).toContain(key)
  })

  it('gives the limits as they are', () => {
    expect(text).toContain(`${limits.fileBytes / 1024 / 1024} MB`)
    expect(text).toContain(`${limits.fileValues / 1e6} million, ${limits.fileDepth} deep`)
    expect(text).toContain(`${limits.joints / 1e6} million each`)
    expect(limits.parts).toBe(limits.joints)
    expect(text).toContain(`${limits.modulesHigh} high, ${limits.modulesAcross} across`)
  })
})
