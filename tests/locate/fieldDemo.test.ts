import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import type { ReadingAnswer } from '../../src/model/answers.ts'
import { fieldStory } from '../generator/demoSites.ts'
import { locateIn } from '../generator/locateIn.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field.json')

describe('demo field', () => {
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const site = opened.value
  const answer = locateIn(site)
  const readingsOf = ({ from, to }: { from: string; to: string }): ReadingAnswer[] =>
    answer.readings.filter((reading) => reading.from === from && reading.to === to)

  it('the open jumper is the first suspect, and alone in its group', () => {
    expect(answer.headline).toBe('suspects')
    const [first] = answer.groups
    expect(first.joints.map(({ joint }) => joint)).toEqual([fieldStory.openJumper])
    expect(first.probability).toBeGreaterThan(0.95)
    expect(first.openProbability).toBeGreaterThan(0.5)
  })

  it('opening it would cut off the two outer tables', () => {
    // Two tables of 20 frames, 4 · 11 pieces of purlin, 4 cross members and 8 posts.
    expect(answer.groups[0].cutsOffParts).toBe(2 * (20 + 44 + 4 + 8))
  })

  it('the two readings across it are explained by it', () => {
    for (const to of ['R4/T7/L4.11', 'R4/T8/L1.1']) {
      const [reading] = readingsOf({ from: 'R4/T4/L1.6', to })
      expect(reading.verdict).toBe('highBySuspect')
      expect(reading.poorContactProbability).toBeLessThan(0.1)
    }
  })

  it('both poor contacts are called poor, and the repeat is in line', () => {
    const [poor, again] = readingsOf(fieldStory.repeatedPair)
    expect(poor.verdict).toBe('poorContact')
    expect(poor.poorContactProbability).toBeGreaterThan(0.9)
    expect(again.repeats).toBe(poor.entry)
    expect(again.verdict).toBe('inLine')
    const [contradicted] = readingsOf(fieldStory.contradictedPair)
    expect(contradicted.verdict).toBe('poorContact')
    expect(contradicted.poorContactProbability).toBeGreaterThan(0.9)
  })

  it('all other readings are in line', () => {
    const counts = answer.readings.filter(({ verdict }) => verdict === 'inLine').length
    expect(counts).toBe(answer.readings.length - 4)
  })

  it('most clamps cannot be seen with this kit, and all jumpers are seen', () => {
    const { joints, seen, cannotBeSeen, examples } = answer.coverage
    expect(cannotBeSeen).toBeGreaterThan(joints / 2)
    expect(seen).toBeGreaterThanOrEqual(42)
    expect(examples[0].kind).toBe('frameClamp')
  })
})
