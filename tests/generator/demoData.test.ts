import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import { siteNotices } from '../../src/model/checkSite.ts'
import { demoSites, fieldStory, roofStory } from './demoSites.ts'
import { trackerStory } from './trackerDemo.ts'

const bytesOf = (file: string) => readFileSync(new URL(`../../demo-data/${file}`, import.meta.url))

describe.each(Object.entries(demoSites))('demo-data/%s', (file, make) => {
  // The tracker's visit is taken on a network of 1.3 million joints: some seconds, more on a busy machine.
  it('is what the generator writes (`npm run demo-data`)', () => {
    expect(bytesOf(file).toString('utf8')).toBe(saveSite(make()))
  }, 180_000)

  it('opens without a problem or a notice and saves to the same bytes', () => {
    const opened = openSite(bytesOf(file), file)
    if (!opened.ok) throw new Error(JSON.stringify(opened.error))
    expect(siteNotices(opened.value)).toEqual([])
    expect(saveSite(opened.value)).toBe(bytesOf(file).toString('utf8'))
  })

  it('does not give away what is wrong', () => {
    const text = bytesOf(file).toString('utf8')
    expect(text).not.toContain(fieldStory.openJumper)
    expect(text).not.toContain(roofStory.raisedLug)
    expect(text).not.toContain(trackerStory.openJumper)
  })
})
