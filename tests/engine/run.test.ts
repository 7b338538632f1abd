import { describe, expect, it } from 'vitest'
import type { ProblemCode } from '../../src/model/problem.ts'
import { checkSite } from '../../src/model/checkSite.ts'
import { finish, type Progress } from '../../src/engine/progress.ts'
import type { AnswerTo, RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache, type SiteCache } from '../../src/engine/siteCache.ts'
import { isCurrent } from '../../src/engine/basis.ts'
import { mutualRodOhm } from '../../src/network/electrodeOhm.ts'
import { smallSite } from './smallSite.ts'

const counted = { countIncidental: true, asBuilt: false }
const site = smallSite()

function ask<N extends RequestName>(
  name: N,
  input: Requests[N][0],
  cache: SiteCache = emptySiteCache(),
  asked = site,
): AnswerTo<N> {
  const result = finish(run(name, input, asked, cache))
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value
}

function problemsOf<N extends RequestName>(name: N, input: Requests[N][0]) {
  const result = finish(run(name, input, site, emptySiteCache()))
  return result.ok ? [] : result.error.map(({ code, facts }) => ({ code, facts }))
}

const pair = (from: string, to: string) => ({ ...counted, from, to })

it('the site of these tests is a valid one', () => {
  expect(checkSite(site)).toEqual([])
})

describe('check', () => {
  it('counts parts, joints, metal sections and islands', () => {
    const answer = ask('check', counted)
    expect(answer).toMatchObject({ valid: true, problems: [], rows: 0, parts: 7, joints: 7 })
    // Metal: E1 E2 E3 G1, E4, B1 G2. Soil joins the first and the last.
    expect(answer.metalSections).toBe(3)
    expect(answer.electricalIslands).toBe(2)
  })

  it('remote earth without an electrode is no island', () => {
    const { drawing } = site
    const dry = {
      ...site,
      drawing: { ...drawing, electrodes: [], extraJoints: drawing.extraJoints.slice(0, 3) },
    }
    const answer = ask('check', counted, emptySiteCache(), dry)
    expect(answer).toMatchObject({ parts: 5, joints: 3, metalSections: 3, electricalIslands: 3 })
  })

  it('a site that cannot be compiled is not valid, and says why', () => {
    const { drawing } = site
    const wrong = { ...drawing.extraJoints[0], id: 9, to: 'E77' }
    const broken = { ...site, drawing: { ...drawing, extraJoints: [...drawing.extraJoints, wrong] } }
    const answer = ask('check', counted, emptySiteCache(), broken)
    expect(answer.valid).toBe(false)
    expect(answer.problems.map(({ code }) => code)).toContain('reference.noSuchPart' satisfies ProblemCode)
  })
})

describe('resistance', () => {
  it('through metal: two jumpers side by side, then one', () => {
    const answer = ask('resistance', pair('E1', 'E3'))
    expect(answer.path).toBe('metal')
    expect(answer.resistanceOhm).toBeCloseTo(0.25, 12)
    // The catalogue's ohms are medians of a skew spread: the mean lies above.
    expect(answer.expectedOhm).toBeGreaterThan(answer.resistanceOhm)
    expect(answer.spreadOhm).toBeGreaterThan(0)
    expect(isCurrent(answer.basis, site)).toBe(true)
    expect(isCurrent(answer.basis, { ...site, record: [{} as never] })).toBe(false)
  })

  it('through soil only: the ohms are told, and that no metal joins the two', () => {
    const answer = ask('resistance', pair('E3', 'B1'))
    expect(answer.path).toBe('soilOnly')
    const rod = { lengthM: 3, radiusM: 0.008 }
    const sharedOhm = mutualRodOhm(rod, rod, 100, site.drawing.facts.soilOhmM)
    expect(answer.resistanceOhm).toBeCloseTo(0.1 + 10 + 20 - 2 * sharedOhm + 0.05, 9)
  })

  it('to remote earth', () => {
    expect(ask('resistance', pair('G1', 'earth'))).toMatchObject({ path: 'soilOnly', to: 'earth' })
    expect(ask('resistance', pair('G1', 'earth')).resistanceOhm).toBeCloseTo(10, 12)
  })

  it('nothing joins them: infinite, and no number that is none', () => {
    expect(ask('resistance', pair('E1', 'E4'))).toMatchObject({
      path: 'none',
      resistanceOhm: Infinity,
      expectedOhm: Infinity,
      spreadOhm: 0,
    })
  })

  it('addresses that mean nothing are told, both at once, with the nearest there is', () => {
    expect(problemsOf('resistance', pair('E1-x', 'E9'))).toEqual([
      { code: 'reference.badAddress', facts: { text: 'E1-x', expected: 'part' } },
      { code: 'reference.noSuchPart', facts: { text: 'E9', nearest: 'E4' } },
    ])
    expect(problemsOf('resistance', pair('R1/T1/F1.1', 'E1'))).toEqual([
      { code: 'reference.noSuchPart', facts: { text: 'R1/T1/F1.1', nearest: null } },
    ])
    expect(problemsOf('resistance', pair('E1', 'E1')).map(({ code }) => code)).toEqual(['reference.samePart'])
  })
})

describe('currents', () => {
  it('split where paths are parallel, largest first, with volts and the address of each joint', () => {
    const answer = ask('currents', pair('E1', 'E3'))
    expect(answer.jointsWithCurrent).toBe(3)
    expect(answer.currents.map(({ joint }) => joint)).toEqual(['J3', 'J1', 'J2'])
    const [series, one, other] = answer.currents
    expect(series).toMatchObject({
      kind: 'jumper',
      from: 'E2',
      to: 'E3',
      perAmpere: 1,
      ohm: 0.2,
      voltPerAmpere: 0.2,
    })
    expect(one.perAmpere).toBeCloseTo(0.5, 12)
    expect(one.voltPerAmpere + series.voltPerAmpere).toBeCloseTo(answer.resistanceOhm, 12)
    expect(other.perAmpere).toBeCloseTo(0.5, 12)
    expect(answer.residual).toBeLessThan(1e-12)
  })

  it('the other way round they change their sign', () => {
    expect(ask('currents', pair('E3', 'E1')).currents[0].perAmpere).toBe(-1)
  })

  it('only as many as were asked for, and how many there are', () => {
    const answer = ask('currents', { ...pair('E1', 'E3'), most: 1 })
    expect(answer.currents).toHaveLength(1)
    expect(answer.jointsWithCurrent).toBe(3)
  })

  it('none where nothing joins the two', () => {
    expect(ask('currents', pair('E1', 'E4'))).toMatchObject({
      currents: [],
      jointsWithCurrent: 0,
      path: 'none',
    })
  })
})

describe('locate', () => {
  it('without readings there is nothing to say, and the basis is told', () => {
    const answer = ask('locate', counted)
    expect(answer.headline).toBe('noReadings')
    expect(answer.groups).toEqual([])
    expect(isCurrent(answer.basis, site)).toBe(true)
  })
})

describe('network', () => {
  it('leverage and what each joint reads open across its own ends', () => {
    const answer = ask('network', counted)
    const edge = (median: number) => answer.medianOhm.findIndex((ohm) => Math.abs(ohm - median) < 1e-12)
    const parallel = edge(0.1)
    expect(answer.leverage[parallel]).toBeCloseTo(0.5, 12)
    expect(answer.soundOhm[parallel]).toBeCloseTo(0.05, 12)
    expect(answer.openOhm[parallel]).toBeCloseTo(0.1, 12)
    const series = edge(0.2)
    expect(answer.leverage[series]).toBe(1)
    expect(answer.openOhm[series]).toBe(Infinity)
    expect(answer.isMetalBridge[series]).toBe(1)
  })
})

describe('progress and cache', () => {
  it('tells the stages in order, each with fractions that do not fall', () => {
    const seen: Progress[] = []
    finish(run('currents', pair('E1', 'E3'), site, emptySiteCache()), (progress) => seen.push(progress))
    const stages = [...new Set(seen.map(({ stage }) => stage))]
    expect(stages).toEqual(['index', 'compile', 'prepare', 'currents'])
    for (let k = 1; k < seen.length; k++) {
      if (seen[k].stage === seen[k - 1].stage)
        expect(seen[k].fraction).toBeGreaterThanOrEqual(seen[k - 1].fraction)
      expect(seen[k].fraction).toBeLessThanOrEqual(1)
    }
  })

  it('a second request on the same drawing compiles nothing; another way of counting does', () => {
    const cache = emptySiteCache()
    const stagesOf = (countIncidental: boolean) => {
      const seen = new Set<string>()
      finish(run('resistance', { ...pair('E1', 'E3'), countIncidental }, site, cache), ({ stage }) =>
        seen.add(stage),
      )
      return [...seen]
    }
    expect(stagesOf(true)).toEqual(['index', 'compile', 'prepare', 'currents'])
    expect(stagesOf(true)).toEqual(['currents'])
    expect(stagesOf(false)).toEqual(['compile', 'prepare', 'currents'])
  })

  it('a request that is stopped half way leaves nothing behind that is not whole', () => {
    const cache = emptySiteCache()
    const job = run('resistance', pair('E1', 'E3'), site, cache)
    for (let step = job.next(); !step.done && step.value.stage !== 'prepare';) step = job.next()
    job.return({ ok: false, error: [] })
    expect(ask('resistance', pair('E1', 'E3'), cache).resistanceOhm).toBeCloseTo(0.25, 12)
  })

  it('a drawing that was replaced is compiled anew', () => {
    const cache = emptySiteCache()
    ask('resistance', pair('E1', 'E3'), cache)
    const { drawing } = site
    const extraJoints = drawing.extraJoints.map((joint) =>
      joint.id === 3 ? { ...joint, medianOhm: 0.5 } : joint,
    )
    const changed = { ...site, drawing: { ...drawing, extraJoints } }
    expect(ask('resistance', pair('E1', 'E3'), cache, changed).resistanceOhm).toBeCloseTo(0.55, 12)
  })
})
