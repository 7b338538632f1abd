import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { openSite } from '../../src/files/openSite.ts'
import type { LocateAnswer, ReadingAnswer } from '../../src/model/answers.ts'
import { countJoints } from '../../src/model/countJoints.ts'
import { locateIn } from '../generator/locateIn.ts'
import { trackerStory } from '../generator/trackerDemo.ts'

const bytes = readFileSync(new URL('../../demo-data/tracker.json', import.meta.url))
const opened = openSite(bytes, 'tracker.json')

describe('demo tracker plant', () => {
  if (!opened.ok) throw new Error(JSON.stringify(opened.error))
  const site = opened.value
  const { drawing } = site

  it('is a large plant in a small file: runs of tables, and nothing for each of them', () => {
    const tables = drawing.rows.reduce((sum, { runs }) => sum + runs[0].count, 0)
    expect(drawing.rows).toHaveLength(100)
    expect(drawing.rows.every(({ runs }) => runs.length === 1)).toBe(true)
    expect(tables).toBe(100 * 100 - 6 - 3 - 10)
    // Per table 16 frames with four clamps, 5 members of 8 stretches, 20 crossings, 2 posts bonded and in soil.
    const perTable = 16 * 4 + 5 * 8 + 4 * 5 + 2 + 2
    // Mains of 23 landings, a ring through 6 bars and one corner, shafts on 20 rows, 16 short conductors; 15
    // electrodes.
    const wired = 5 * (23 + 22) + (6 + 7) + 5 * (20 + 19) + 16 * 3 + 15
    const joints = tables * perTable + (tables - drawing.rows.length) + wired
    expect(countJoints(drawing)).toBe(joints)
    expect(joints).toBeGreaterThan(1_200_000)
    expect(bytes.length).toBeLessThan(200_000)
    const index = indexSite(drawing)
    expect(index.ok && index.value.jointCount).toBe(joints)
  })

  describe('located', () => {
    let answer: LocateAnswer
    const readingsOf = ({ from, to }: { from: string; to: string }): ReadingAnswer[] =>
      answer.readings.filter((reading) => reading.from === from && reading.to === to)
    // Some seconds of work on 1.3 million joints; on a busy machine a minute.
    beforeAll(() => {
      answer = locateIn(site)
    }, 240_000)

    it('names the open jumper of 1.3 million joints, alone in its group', () => {
      expect(answer.headline).toBe('suspects')
      const [first] = answer.groups
      expect(first.joints.map(({ joint }) => joint)).toEqual([trackerStory.openJumper])
      expect(first.probability).toBeGreaterThan(0.95)
      expect(first.openProbability).toBeGreaterThan(0.5)
    })

    it('opening it would leave the tables beyond on soil alone', () => {
      // 22 tables of 16 frames, 5 · 9 pieces of tube and rails, 4 cross members and 2 posts.
      expect(answer.groups[0].cutsOffParts).toBe(22 * (16 + 45 + 4 + 2))
    })

    it('the readings across it are explained by it, those on either side are in line', () => {
      for (const pair of trackerStory.crossing) {
        const [reading] = readingsOf(pair)
        expect(reading.verdict).toBe('highBySuspect')
        expect(reading.poorContactProbability).toBeLessThan(0.1)
      }
      expect(readingsOf({ from: 'R47/T75/L1.5', to: 'R47/T78/F1.3' })[0].verdict).toBe('inLine')
      expect(readingsOf({ from: 'R47/T85/L1.5', to: 'R47/T80/L1.5' })[0].verdict).toBe('inLine')
    })

    it('both poor contacts are called poor, and all other readings are in line', () => {
      const [poor, again] = readingsOf(trackerStory.repeatedPair)
      const [contradicted] = readingsOf(trackerStory.contradictedPair)
      expect([poor.verdict, contradicted.verdict]).toEqual(['poorContact', 'poorContact'])
      expect(again.repeats).toBe(poor.entry)
      expect(answer.readings.filter(({ verdict }) => verdict === 'inLine')).toHaveLength(50 - 5)
    })
  })
})
