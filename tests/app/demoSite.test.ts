import { describe, expect, it } from 'vitest'
import { demoSentence, readDemoSite } from '../../src/app/demoSite.ts'

const read = (text: string) => readDemoSite('a.json', './assets/a.json', text)

describe('readDemoSite', () => {
  it('takes name and counts from a site file', () => {
    const text = JSON.stringify({ name: 'North roof', drawing: { rows: [{}, {}] }, record: [{}] })
    const site = read(text)
    expect(site).toEqual({
      file: 'a.json',
      address: './assets/a.json',
      name: 'North roof',
      rows: 2,
      entries: 1,
    })
    expect(demoSentence(site)).toBe('2 rows drawn, 1 entry in the record.')
  })

  it('tells only what is there', () => {
    const site = read(JSON.stringify({ name: 'Bare', drawing: { rows: new Array(1234).fill({}) } }))
    expect(demoSentence(site)).toBe('1,234 rows drawn.')
    expect(demoSentence(read(JSON.stringify({ record: [] })))).toBe('0 entries in the record.')
  })

  it.each(['', '{', 'null', '7', '[]', '{"name":" ","drawing":null,"record":{"length":3}}'])(
    'falls back to the file name for %j',
    (text) => {
      const site = read(text)
      expect(site).toEqual({ file: 'a.json', address: './assets/a.json', name: 'a.json' })
      expect(demoSentence(site)).toBe('The page cannot read what is in this file.')
    },
  )
})
