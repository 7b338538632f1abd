import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { estimateBytes, wholeText } from '../../src/files/exportPiece.ts'
import { openSite } from '../../src/files/openSite.ts'
import { readCells } from '../../src/files/tables/readCells.ts'
import { jointLineBytes, writeJoints } from '../../src/files/tables/writeJoints.ts'
import { writeTables } from '../../src/files/tables/writeTables.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { parseJointAddress } from '../../src/model/address.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { exampleSite } from '../model/exampleSite.ts'

const indexOf = (site: Site) => {
  const index = indexSite(site.drawing)
  if (!index.ok) throw new Error(JSON.stringify(index.error))
  return index.value
}

function demo(name: string): Site {
  const opened = openSite(readFileSync(`demo-data/${name}.json`), name)
  if (!opened.ok) throw new Error(name)
  return opened.value
}

function cellsOf(text: string) {
  const cells = wholly(readCells(text))
  if (!cells.ok) throw new Error(JSON.stringify(cells.error))
  return cells.value
}

describe('tables as CSV', () => {
  it('begin with their headings and have a line each, in the units of the site', () => {
    const index = indexOf(exampleSite())
    const { header, lines } = cellsOf(wholeText(writeTables(index, 'metric')))
    expect(header).toEqual(['address', 'row', 'label', 'x (m)', 'y (m)', 'bearing (deg)', 'type'])
    expect(lines).toHaveLength(index.tableCount)
    const feet = cellsOf(wholeText(writeTables(index, 'us')))
    expect(feet.header[3]).toBe('x (ft)')
    expect(Number(feet.lines[1].cells[3]) * 0.3048).toBeCloseTo(Number(lines[1].cells[3]), 4)
  })

  it('keep a spreadsheet from running a label', () => {
    const site = exampleSite()
    const [row, ...rest] = site.drawing.rows
    const rows = [
      { ...row, label: '=HYPERLINK("x")', tableLabels: { [row.runs[0].firstTable]: '@cmd' } },
      ...rest,
    ]
    const text = wholeText(writeTables(indexOf({ ...site, drawing: { ...site.drawing, rows } }), 'metric'))
    const [first] = cellsOf(text).lines
    expect(first.cells.slice(1, 3)).toEqual([`'=HYPERLINK("x")`, `'@cmd`])
  })
})

describe('joints as CSV', () => {
  it('have a line each, whose address is that of a joint, with ends and ohms', () => {
    for (const site of [exampleSite(), demo('roof')]) {
      const index = indexOf(site)
      const { header, lines } = cellsOf(wholeText(writeJoints(index, 'metric')))
      expect(header).toEqual([
        'address',
        'kind',
        'from',
        'to',
        'median (mohm)',
        'ln spread',
        'x (m)',
        'y (m)',
      ])
      expect(lines.length).toBeGreaterThan(0.95 * index.jointCount)
      for (const { cells } of lines) {
        const address = parseJointAddress(cells[0])
        expect(address && jointIndexOf(index, address)).toBeGreaterThanOrEqual(0)
        expect(Number(cells[4])).toBeGreaterThan(0)
        expect(Number.isFinite(Number(cells[6]))).toBe(true)
      }
    }
  })

  it('come in portions, with the fraction done rising to 1, and end early where they are left', () => {
    const index = indexOf(demo('field'))
    const fractions = [...writeJoints(index, 'metric')].map(({ fraction }) => fraction)
    expect(fractions.at(-1)).toBe(1)
    expect(fractions.every((fraction, k) => k === 0 || fraction >= fractions[k - 1])).toBe(true)
    const job = writeJoints(index, 'metric')
    job.next()
    expect(job.return({ ok: true, value: null }).done).toBe(true)
  })

  it('are about as long as was said before', () => {
    const index = indexOf(demo('field'))
    const bytes = new TextEncoder().encode(wholeText(writeJoints(index, 'metric'))).length
    expect(bytes / (index.jointCount * jointLineBytes)).toBeGreaterThan(0.75)
    expect(bytes / (index.jointCount * jointLineBytes)).toBeLessThan(1.35)
  })
})

it('an estimate grows with the lines', () => {
  expect(estimateBytes('ab\r\ncd\r\n', 2, 1000)).toBe(4000)
  expect(estimateBytes('', 0, 0)).toBe(0)
})
