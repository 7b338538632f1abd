import { describe, expect, it } from 'vitest'
import { emptySiteCache, replaceDrawing, type SiteCache } from '../../src/engine/siteCache.ts'
import {
  answerOf,
  bySeed,
  fieldSite,
  fourWireKit,
  preparedIn,
  problemCodes,
  startInput,
} from '../drill/drillIn.ts'
import { hideableEdges } from '../../src/drill/hideJoint.ts'
import { jointAddressAt } from '../../src/layout/jointIndex.ts'
import { writeJointAddress } from '../../src/model/address.ts'

const site = fieldSite()
const jumper = 'R4/T6+T7~1'
const pair = { how: 'new', from: 'R4/T6/L1.6', to: 'R4/T7/L1.6' } as const
const trainer = { by: 'trainer', seed: 5, joint: jumper, addedOhm: null } as const

describe('a drill in the engine', () => {
  it('tells nothing of the hidden joint before it is over', () => {
    const cache = emptySiteCache()
    const begun = answerOf('drillStart', startInput(trainer), site, cache)
    const read = answerOf('drillReading', pair, site, cache)
    const called = answerOf('drillCall', { call: 'joint', joint: 'R1/T1+T2~1' }, site, cache)
    for (const answer of [begun, read, called]) {
      expect(answer.revealed).toBeNull()
      expect(JSON.stringify(answer)).not.toContain(jumper)
    }
    const over = answerOf('drillCall', { call: 'giveUp' }, site, cache)
    expect(over.revealed).toMatchObject({ joint: jumper, isFound: false, addedOhm: null })
  })

  it('the joint shows in what is read across it, beside what a sound array would read', () => {
    const cache = emptySiteCache()
    answerOf('drillStart', startInput(trainer, fourWireKit), site, cache)
    const { readings } = answerOf('drillReading', pair, site, cache)
    const [{ result, expectedOhm, spreadOhm }] = readings
    const shown = result.form === 'ohm' ? result.ohm : result.atLeastOhm
    expect(expectedOhm).toBeLessThan(0.01)
    expect(shown).toBeGreaterThan(expectedOhm + 20 * spreadOhm)
    const elsewhere = answerOf(
      'drillReading',
      { how: 'new', from: 'R1/T6/L1.6', to: 'R1/T7/L1.6' },
      site,
      cache,
    ).readings[1]
    if (elsewhere.result.form !== 'ohm') throw new Error('sound neighbours read within range')
    expect(elsewhere.result.ohm).toBeLessThan(0.02)
  })

  it('the same seed hides the same joint and reads the same; the record stays as it is', () => {
    const play = (seed: number) => {
      const cache = emptySiteCache()
      answerOf('drillStart', startInput(bySeed(seed)), site, cache)
      answerOf('drillCall', { call: 'nullLeads' }, site, cache)
      answerOf('drillReading', pair, site, cache)
      answerOf('drillReading', { how: 'reseat' }, site, cache)
      return answerOf('drillCall', { call: 'giveUp' }, site, cache)
    }
    const before = JSON.stringify(site.record)
    expect(play(41)).toEqual(play(41))
    const hidden = new Set([41, 42, 43, 44].map((seed) => play(seed).revealed!.joint))
    expect(hidden.size).toBeGreaterThan(1)
    expect(JSON.stringify(site.record)).toBe(before)
  })

  it('is found by naming the joint; then it is over', () => {
    const cache = emptySiteCache()
    const prepared = preparedIn(site)
    const edge = hideableEdges(prepared, fourWireKit)[3]
    const { network } = prepared
    const joint = writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge]))
    answerOf('drillStart', startInput({ ...trainer, joint }, fourWireKit), site, cache)
    const over = answerOf('drillCall', { call: 'joint', joint }, site, cache)
    expect(over.revealed?.isFound).toBe(true)
    expect(over.score.total).toBe(100)
    expect(problemCodes('drillReading', pair, site, cache)).toEqual(['drill.over'])
  })

  it('says why it cannot be', () => {
    const cache = emptySiteCache()
    expect(problemCodes('drillReading', pair, site, cache)).toEqual(['drill.none'])
    expect(problemCodes('drillStart', startInput({ ...trainer, joint: 'R9/T1+T2~1' }), site, cache)).toEqual([
      'reference.noSuchJoint',
    ])
    expect(problemCodes('drillStart', startInput({ ...trainer, addedOhm: 0.001 }), site, cache)).toEqual([
      'drill.unseen',
    ])
    expect(problemCodes('drillStart', startInput({ ...trainer, addedOhm: -1 }), site, cache)).toEqual([
      'value.outOfRange',
    ])
    expect(problemCodes('drillStart', startInput(bySeed(0.5)), site, cache)).toEqual(['value.outOfRange'])
    answerOf('drillStart', startInput(trainer), site, cache)
    expect(problemCodes('drillReading', { how: 'again' }, site, cache)).toEqual(['drill.nothingRead'])
    expect(problemCodes('drillReading', { ...pair, to: pair.from }, site, cache)).toEqual([
      'reference.samePart',
    ])
    expect(problemCodes('drillCall', { call: 'badTest', reading: 1 }, site, cache)).toEqual([
      'drill.noSuchReading',
    ])
    answerOf('drillReading', pair, site, cache)
    answerOf('drillCall', { call: 'badTest', reading: 1 }, site, cache)
    expect(problemCodes('drillCall', { call: 'badTest', reading: 1 }, site, cache)).toEqual([
      'drill.calledBefore',
    ])
    answerOf('drillCall', { call: 'joint', joint: 'R1/T1+T2~1' }, site, cache)
    expect(problemCodes('drillCall', { call: 'joint', joint: 'R1/T1+T2~1' }, site, cache)).toEqual([
      'drill.calledBefore',
    ])
  })

  it('outlives a lesson that is kept in the drawing, not an array that is drawn otherwise', () => {
    const cache = emptySiteCache()
    answerOf('drillStart', startInput(trainer), site, cache)
    const taught = { ...site, drawing: { ...site.drawing, lessons: [] } }
    replaceDrawing(cache, site.drawing, taught.drawing)
    expect(answerOf('drillReading', pair, taught, cache).readings).toHaveLength(1)
    const wetter = { ...taught.drawing, facts: { ...taught.drawing.facts, soilOhmM: 20 } }
    replaceDrawing(cache, taught.drawing, wetter)
    expect(problemCodes('drillReading', pair, { ...taught, drawing: wetter }, cache)).toEqual(['drill.none'])
  })
})

describe('asking the program', () => {
  const across = (row: number) => ({ how: 'new', from: `R${row}/T6/L1.6`, to: `R${row}/T7/L1.6` }) as const
  const begin = (mayAsk = { suspects: true, next: true }) => {
    const cache = emptySiteCache()
    answerOf('drillStart', { ...startInput(trainer, fourWireKit), mayAsk }, site, cache)
    return cache
  }

  it('tells what the readings say and what to read next; counted once for the same readings', () => {
    const cache = begin()
    answerOf('drillReading', across(4), site, cache)
    const asked = answerOf('drillAsk', { question: 'suspects' }, site, cache)
    expect(asked.told.suspects!.groups[0].joints.map(({ joint }) => joint)).toContain(jumper)
    expect(asked.told.next).toBeNull()
    const next = answerOf('drillAsk', { question: 'next' }, site, cache)
    expect(next.told.next!.actions.length).toBeGreaterThan(0)
    const again = answerOf('drillAsk', { question: 'next' }, site, cache)
    expect(again.asked).toEqual([
      { question: 'suspects', readings: 1 },
      { question: 'next', readings: 1 },
    ])
    expect(again.score.asked).toBe(-10)
    const read = answerOf('drillReading', across(2), site, cache)
    expect(read.told).toEqual({ suspects: null, next: null })
    expect(answerOf('drillAsk', { question: 'next' }, site, cache).asked).toHaveLength(3)
    expect(site.record).toEqual([])
  })

  it('knows the readings alone: elsewhere a bad joint that was not read across is no suspect', () => {
    const cache = begin()
    for (const row of [1, 2, 3]) answerOf('drillReading', across(row), site, cache)
    const { told } = answerOf('drillAsk', { question: 'suspects' }, site, cache)
    const named = told.suspects!.groups.filter(({ joints }) => joints.some(({ joint }) => joint === jumper))
    expect(named.every(({ probability }) => probability < 0.05)).toBe(true)
  })

  it('can be switched off, each by itself, and needs something to go by', () => {
    const cache = begin({ suspects: false, next: true })
    expect(problemCodes('drillAsk', { question: 'suspects' }, site, cache)).toEqual(['drill.mayNotAsk'])
    expect(problemCodes('drillAsk', { question: 'next' }, site, cache)).toEqual(['drill.nothingToGoOn'])
    answerOf('drillReading', across(4), site, cache)
    expect(problemCodes('drillAsk', { question: 'suspects' }, site, cache)).toEqual(['drill.mayNotAsk'])
    expect(answerOf('drillAsk', { question: 'next' }, site, cache).asked).toHaveLength(1)
  })

  it('and doing what it says finds the jumper in its row in a few readings', () => {
    const hidden = ['R2/T1+T2~1', 'R6/T7+T8~1']
    const readings = hidden.map((joint, k) => {
      const cache = emptySiteCache()
      const hiding = { ...trainer, seed: 20 + k, joint, addedOhm: 0.5 }
      answerOf('drillStart', startInput(hiding, fourWireKit), site, cache)
      const row = joint.slice(0, 2)
      const ends = { how: 'new', from: `${row}/T1/L1.1`, to: `${row}/T8/L1.6` } as const
      answerOf('drillReading', ends, site, cache)
      for (let step = 2; step <= 12; step++) {
        const { actions } = answerOf('drillAsk', { question: 'next' }, site, cache).told.next!
        const action = actions.find(({ kind }) => kind === 'pair' || kind === 'repeat')
        if (!action) break
        const pairNext = { how: 'new', from: action.from!, to: action.to! } as const
        answerOf('drillReading', pairNext, site, cache)
      }
      const { told, readings } = answerOf('drillAsk', { question: 'suspects' }, site, cache)
      const first = told.suspects!.groups[0]
      expect(first.joints.map((suspect) => suspect.joint)).toContain(joint)
      expect(first.probability).toBeGreaterThan(0.9)
      expect(first.jointCount).toBeLessThanOrEqual(3)
      return readings.length
    })
    expect(Math.max(...readings)).toBeLessThan(12)
  })
})

describe('a drill that is gone through again', () => {
  const input = startInput(bySeed(41))
  const play = (cache: SiteCache) => {
    answerOf('drillStart', input, site, cache)
    answerOf('drillReading', pair, site, cache)
    answerOf('drillCall', { call: 'nullLeads' }, site, cache)
    answerOf('drillReading', { how: 'again' }, site, cache)
    answerOf('drillReading', { ...pair, from: 'B1' }, site, cache)
    answerOf('drillReading', { how: 'reseat' }, site, cache)
    answerOf('drillCall', { call: 'nullLeads' }, site, cache)
    answerOf('drillCall', { call: 'nullLeads' }, site, cache)
    answerOf('drillCall', { call: 'joint', joint: 'R1/T1+T2~1' }, site, cache)
    answerOf('drillCall', { call: 'badTest', reading: 2 }, site, cache)
    return answerOf('drillAsk', { question: 'next' }, site, cache)
  }

  it('stands where it stood, and goes on the same', () => {
    const first = emptySiteCache()
    const stood = play(first)
    const second = emptySiteCache()
    const again = answerOf('drillResume', { start: input, stood }, site, second)
    // what was told has to be asked again; that it was asked is not forgotten
    expect(again).toEqual({ ...stood, told: { suspects: null, next: null } })
    for (const cache of [first, second]) answerOf('drillReading', { ...pair, to: 'B1' }, site, cache)
    const over = [first, second].map((cache) => answerOf('drillCall', { call: 'giveUp' }, site, cache))
    expect(over[1]).toEqual(over[0])
  })

  it('does not go on where the array was drawn otherwise since', () => {
    const stood = play(emptySiteCache())
    const facts = { ...site.drawing.facts, ambientC: site.drawing.facts.ambientC + 40 }
    const warmer = { ...site, drawing: { ...site.drawing, facts } }
    const cache = emptySiteCache()
    expect(problemCodes('drillResume', { start: input, stood }, warmer, cache)).toEqual(['drill.changed'])
    expect(problemCodes('drillReading', pair, warmer, cache)).toEqual(['drill.none'])
  })
})
