import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { describeDemo } from '../../src/app/describeDemo.ts'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'

const fieldBytes = readFileSync(new URL('../../demo-data/field.json', import.meta.url))
const bytesOf = (text: string) => new TextEncoder().encode(text)

describe('describeDemo', () => {
  it('takes name and counts from a site file', () => {
    // Per table 20 frames with two clamps each, 4 members of 10 stretches, 16 crossings, 8 posts bonded and in
    // soil; 42 jumpers, 11 landings on two conductors and the 9 stretches between them, 2 rods.
    const joints = 48 * (40 + 40 + 16 + 8 + 8) + 42 + 11 + 9 + 2
    expect(joints).toBe(5440)
    expect(describeDemo(fieldBytes, 'field.json')).toEqual({
      name: 'Larkmoor Field',
      about: '6 rows, 48 tables, 5440 joints; 50 readings in the record.',
    })
  })

  it('counts one of a thing as one, and calls a site without a name by its file', () => {
    const opened = openSite(fieldBytes, 'field.json')
    if (!opened.ok) throw new Error(JSON.stringify(opened.error))
    const { drawing, record, ...site } = opened.value
    const [row] = drawing.rows
    const small = {
      ...site,
      name: '',
      drawing: {
        ...drawing,
        rows: [{ ...row, runs: [{ ...row.runs[0], count: 1 }], tableLabels: {} }],
        conductors: [],
        electrodes: [],
        plans: [],
      },
      record: [...record.slice(0, 3), ...record.filter(({ entry }) => entry === 'reading').slice(0, 1)],
    }
    expect(describeDemo(bytesOf(saveSite(small)), 'a.json')).toEqual({
      name: 'a.json',
      about: '1 row, 1 table, 112 joints; 1 reading in the record.',
    })
  })

  it.each(['', '{', 'null', '[]', '{"name":"North roof"}'])('calls %j by its file name', (text) => {
    expect(describeDemo(bytesOf(text), 'a.json')).toEqual({
      name: 'a.json',
      about: 'This file does not open.',
    })
  })
})
