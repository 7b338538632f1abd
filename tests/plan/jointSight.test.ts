import fc from 'fast-check'
import { expect, it } from 'vitest'
import { planSeverities } from '../../src/model/planning.ts'
import { answerOf, coverage, fourWire, jointNumber, longLead, sightOf, twoWire } from './askCoverage.ts'
import { allPairs, boxSites } from './randomSite.ts'

it('of one joint says what coverage says of all, pair by pair', () => {
  fc.assert(
    fc.property(
      boxSites,
      fc.constantFrom(...planSeverities),
      fc.constantFrom(twoWire, fourWire),
      fc.nat(),
      ({ boxes, site }, severity, kit, n) => {
        const pairs = allPairs(boxes).filter((_, k) => (n >> (k % 30)) % 2 === 1)
        const input = { countIncidental: true, asBuilt: false, severity, kit, lead: longLead, pairs }
        const whole = coverage(site, input)
        for (const { id } of site.drawing.extraJoints) {
          const joint = `J${id}`
          const one = answerOf('jointSight', { ...input, joint }, site)
          const sight = sightOf(site, whole, joint)
          expect(one.isCounted).toBe(sight !== 'cannotFail')
          expect(one.seenBy).toHaveLength(whole.shownBy[jointNumber(site, joint)])
          expect(one.seenBy.some(({ byCriterion }) => byCriterion)).toBe(sight === 'criterion')
          for (const { soundOhm, badOhm } of one.seenBy) expect(badOhm).toBeGreaterThan(soundOhm)
          const isHidden = sight !== 'criterion' && sight !== 'comparison' && sight !== 'cannotFail'
          expect(one.hidden?.why ?? null).toBe(isHidden ? sight : null)
        }
      },
    ),
    { numRuns: 30, seed: 21 },
  )
})
