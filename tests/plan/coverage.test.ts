import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { gainOfSeverity, planSeverities, type PlanSeverity } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { answerOf, coverage, fourWire, jointNumber, sightOf, twoWire } from './askCoverage.ts'
import { allPairs, boxSites, likeJoints, siteOf } from './randomSite.ts'

const counted = { countIncidental: true, asBuilt: false }

/** The same site with one of its joints gone bad. */
function withBad(site: Site, id: number, severity: PlanSeverity): Site {
  const { extraJoints } = site.drawing
  const gain = gainOfSeverity[severity]
  const changed =
    gain === Infinity
      ? extraJoints.filter((joint) => joint.id !== id)
      : extraJoints.map((joint) =>
          joint.id === id ? { ...joint, medianOhm: (joint.medianOhm ?? 0) * (1 + gain) } : joint,
        )
  return { ...site, drawing: { ...site.drawing, extraJoints: changed } }
}

describe('what a pair shows', () => {
  it('is what the network read anew with the joint gone bad says', () => {
    fc.assert(
      fc.property(
        boxSites,
        fc.constantFrom(...planSeverities),
        fc.constantFrom(twoWire, fourWire),
        fc.nat(),
        ({ boxes, site }, severity, kit, n) => {
          const pairs = allPairs(boxes)
          const pair = pairs[n % pairs.length]
          const answer = coverage(site, { pairs: [pair], severity, kit })
          const [read] = answer.pairs
          const sound = answerOf('resistance', { ...counted, ...pair }, site)
          for (const { id } of site.drawing.extraJoints) {
            const bad = answerOf('resistance', { ...counted, ...pair }, withBad(site, id, severity))
            const rise = bad.path === 'none' ? Infinity : bad.resistanceOhm - sound.resistanceOhm
            const margin = (read.levelOhm ?? Infinity) - read.expectedOhm
            const isCriterion = sound.path === 'metal' && margin > 2 * read.sdOhm && rise > margin
            const isComparison = sound.path === 'metal' && rise > 4 * read.sdOhm
            const sight = sightOf(site, answer, `J${id}`)
            const nearly = [margin, 4 * read.sdOhm].some((at) => Math.abs(rise - at) < 1e-9 * at)
            if (nearly) continue
            expect(sight === 'criterion').toBe(isCriterion)
            if (!isCriterion) expect(sight === 'comparison').toBe(isComparison)
          }
        },
      ),
      { numRuns: 60, seed: 8 },
    )
  })

  it('together is the union of what the pairs show one by one, and another pair never takes from it', () => {
    fc.assert(
      fc.property(boxSites, fc.nat(), fc.nat(), ({ boxes, site }, n, m) => {
        const pairs = allPairs(boxes)
        const some = pairs.filter((_, k) => (n >> k) % 2 === 1)
        const more = [...some, pairs[m % pairs.length]]
        const fewer = coverage(site, { pairs: some })
        const answer = coverage(site, { pairs: more })
        const each = more.map((pair) => coverage(site, { pairs: [pair] }))
        for (const { id } of site.drawing.extraJoints) {
          const joint = jointNumber(site, `J${id}`)
          const alone = each.filter(({ shownBy }) => shownBy[joint] > 0)
          expect(answer.shownBy[joint] > 0).toBe(alone.length > 0)
          expect(answer.shownBy[joint]).toBeGreaterThanOrEqual(fewer.shownBy[joint])
          if (fewer.shownBy[joint] > 0) expect(answer.sight[joint]).toBeLessThanOrEqual(fewer.sight[joint])
        }
        expect(Object.values(answer.counts).reduce((a, b) => a + b, 0)).toBe(answer.joints)
      }),
      { numRuns: 40, seed: 8 },
    )
  })

  it('of a joint that an open leaves no metal beside is seen by every pair across it', () => {
    // E1 = E2 - E3 = E4, the middle joint alone
    const joints = [
      { from: 1, to: 2, medianOhm: 0.001 },
      { from: 1, to: 2, medianOhm: 0.001 },
      { from: 2, to: 3, medianOhm: 0.001 },
      { from: 3, to: 4, medianOhm: 0.001 },
      { from: 3, to: 4, medianOhm: 0.001 },
    ]
    const site = siteOf(4, joints, [1, 4])
    for (const kit of [twoWire, fourWire]) {
      for (const [from, to] of [
        ['E1', 'E3'],
        ['E1', 'E4'],
        ['E2', 'E3'],
        ['E2', 'E4'],
      ]) {
        const answer = coverage(site, { kit, pairs: [{ from, to }] })
        expect(sightOf(site, answer, 'J3')).not.toBe('addPair')
        expect(answer.shownBy[jointNumber(site, 'J3')]).toBe(1)
      }
      expect(
        coverage(site, { kit, pairs: [{ from: 'E1', to: 'E2' }] }).shownBy[jointNumber(site, 'J3')],
      ).toBe(0)
    }
  })

  it('is nothing where no metal joins the two, whatever soil lets through', () => {
    const site = siteOf(
      4,
      [
        { from: 1, to: 2, medianOhm: 0.01 },
        { from: 3, to: 4, medianOhm: 0.01 },
      ],
      [1, 3],
    )
    const answer = coverage(site, { pairs: [{ from: 'E2', to: 'E4' }] })
    expect(answer.pairs[0].expectedOhm).toBeGreaterThan(1)
    expect(answer.pairs[0].expectedOhm).toBeLessThan(1000)
    expect(answer.pairs[0].shows).toBe(0)
    const apart = siteOf(3, [{ from: 1, to: 2, medianOhm: 0.01 }])
    expect(coverage(apart, { pairs: [{ from: 'E1', to: 'E3' }] }).pairs[0]).toMatchObject({
      expectedOhm: Infinity,
      shows: 0,
    })
  })

  it('is nothing where it cannot be taken, and says so', () => {
    const site = siteOf(4, [{ from: 1, to: 4, medianOhm: 0.01 }])
    const shortLead = { id: 's', name: '', lengthM: 10, areaMm2: 1.5, material: 'copper' } as const
    const answer = coverage(site, { pairs: [{ from: 'E1', to: 'E4' }], lead: shortLead })
    expect(answer.pairs[0]).toMatchObject({ tooFarM: 15, shows: 0 })
    expect(answer.counts.noAccess).toBe(1)
    expect(answer.hidden[0].cures).toContainEqual({ cure: 'longerLead', lengthM: 18 })
    const access = site.drawing.access.map((each) => ({ ...each, reachable: each.part !== 'enclosure' }))
    const closed: Site = { ...site, drawing: { ...site.drawing, access } }
    const noAccess = coverage(closed, { pairs: [{ from: 'E1', to: 'E4' }] })
    expect(noAccess.pairs[0]).toMatchObject({ noAccess: ['E1', 'E4'], shows: 0 })
    expect(noAccess.hidden[0].cures).toContainEqual({ cure: 'testStud', part: 'E1' })
  })
})

describe('joints that look alike', () => {
  const chain = siteOf(
    5,
    [1, 2, 3, 4].map((k) => ({ from: k, to: k + 1, medianOhm: 0.001 * k })),
  )

  it('are those in series without a point between, however many pairs cross them', () => {
    const between = coverage(chain, {
      pairs: [
        { from: 'E1', to: 'E5' },
        { from: 'E1', to: 'E3' },
      ],
    })
    expect(between.lookAlikes.map(({ joints }) => joints)).toEqual([
      ['J1', 'J2'],
      ['J3', 'J4'],
    ])
    expect(between.toldApart).toBe(0)
    const apart = coverage(chain, {
      pairs: [1, 2, 3, 4].map((k) => ({ from: `E${k}`, to: `E${k + 1}` })),
    })
    expect(apart.toldApart).toBe(4)
    expect(apart.lookAlikeGroups).toBe(0)
  })

  it('are parallel ones of one reading', () => {
    const site = likeJoints(
      siteOf(2, [
        { from: 1, to: 2, medianOhm: 0.03 },
        { from: 1, to: 2, medianOhm: 0.03 },
      ]),
    )
    const answer = coverage(site, { pairs: [{ from: 'E1', to: 'E2' }] })
    expect(answer.lookAlikes).toEqual([{ count: 2, joints: ['J1', 'J2'] }])
  })
})

describe('a joint that the plan does not show', () => {
  it('needs another pair, a finer kit, or has too good a path beside it', () => {
    const site = likeJoints(
      siteOf(4, [
        { from: 1, to: 2, medianOhm: 0.01 },
        { from: 1, to: 2, medianOhm: 0.01 },
        { from: 2, to: 3, medianOhm: 0.00001 },
        { from: 2, to: 3, medianOhm: 0.00001 },
        { from: 3, to: 4, medianOhm: 0.001 },
      ]),
    )
    const none = coverage(site, { kit: twoWire })
    expect(['J1', 'J3', 'J5'].map((joint) => sightOf(site, none, joint))).toEqual([
      'finerKit',
      'parallelPaths',
      'addPair',
    ])
    expect(none.hidden.find(({ why }) => why === 'addPair')?.cures).toEqual([
      { cure: 'addPair', from: 'E3', to: 'E4' },
    ])
    expect(none.hidden.find(({ why }) => why === 'finerKit')?.cures).toEqual([{ cure: 'fourWireKit' }])
    const finer = coverage(site, { kit: fourWire, pairs: [{ from: 'E1', to: 'E2' }] })
    expect(finer.shownBy[jointNumber(site, 'J1')]).toBe(1)
  })

  it('is worth no more than its chance of being bad', () => {
    const site = siteOf(3, [
      { from: 1, to: 2, medianOhm: 0.01 },
      { from: 2, to: 3, medianOhm: 0.01 },
    ])
    const answer = coverage(site, { pairs: [{ from: 'E1', to: 'E2' }] })
    expect(answer.expectedBad).toBeCloseTo(0.014)
    expect(answer.expectedBadUnseen).toBeCloseTo(0.007)
  })
})
