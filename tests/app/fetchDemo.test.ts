import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { fetchDemo } from '../../src/app/fetchDemo.ts'

const demo = { address: './assets/field-1.json', file: 'field.json' }
const fieldBytes = readFileSync(new URL('../../demo-data/field.json', import.meta.url))

describe('fetchDemo', () => {
  it('opens what lies at the address', async () => {
    const asked: string[] = []
    const opened = await fetchDemo(demo, (address) => {
      asked.push(address)
      return Promise.resolve(new Response(fieldBytes))
    })
    expect(asked).toEqual([demo.address])
    expect(opened.ok && opened.value.name).toBe('Larkmoor Field')
  })

  it.each([
    ['a file that is not there', () => Promise.resolve(new Response('', { status: 404 })), '404'],
    ['no network', () => Promise.reject(new TypeError('Failed to fetch')), 'Failed to fetch'],
  ])('tells %s by the name of the file', async (_, fetchFrom, reason) => {
    const opened = await fetchDemo(demo, fetchFrom)
    const [found] = opened.ok ? [] : opened.error
    expect(found.code).toBe('file.missing')
    expect(found.where).toEqual({ file: 'field.json' })
    expect(JSON.stringify(found.facts)).toContain(reason)
  })

  it('tells what is wrong in a file that came', async () => {
    const opened = await fetchDemo(demo, () => Promise.resolve(new Response('{')))
    expect(opened.ok ? [] : opened.error.map(({ code }) => code)).toEqual(['file.notJson'])
  })
})
