import { describe, expect, it } from 'vitest'
import {
  asksForChecks,
  electrodeVerdict,
  firstVerdict,
  loopExpectation,
  resolvedFromOhm,
  type Expectation,
  type Values,
} from '../../src/compare/firstVerdict.ts'
import { defaultKits } from '../../src/model/kits.ts'
import { defaultCriteria } from '../../src/model/newSite.ts'
import type { Criterion } from '../../src/model/schema/planning.ts'
import { nameFirstVerdict, describeFirstVerdict } from '../../src/text/firstVerdictText.ts'
import { wordsFor } from '../../src/text/words.ts'

const [twoWire, fourWire, , clamp] = defaultKits
const expected: Expectation = {
  path: 'metal',
  expectedOhm: 0.05,
  spreadOhm: 0.01,
  beyondRange: false,
  investigateOhm: 0.1,
  rejectOhm: 0.2,
}
const noCriterion = { ...expected, investigateOhm: null, rejectOhm: null }
const read = (ohm: number, more: Partial<Values> = {}): Values => ({
  result: { form: 'ohm', ohm },
  reverseOhm: null,
  unsteady: null,
  ...more,
})
const over: Values = { ...read(0), result: { form: 'over', atLeastOhm: 200 } }
/** Peers that read just what is expected of them. */
const alike = (count: number, ratio = 1) =>
  Array.from({ length: count }, () => ({ readOhm: 0.04 * ratio, expectedOhm: 0.04 }))

const kindOf = (at: Expectation, values: Values, peers = alike(0), kit = fourWire) =>
  firstVerdict(at, kit, values, peers).kind

describe('the first verdict', () => {
  it('is in line up to three spreads above the model, and not beyond', () => {
    expect(firstVerdict(noCriterion, fourWire, read(0.08), [])).toEqual({ kind: 'inLine', peers: 0 })
    expect(firstVerdict(noCriterion, fourWire, read(0.0801), [])).toMatchObject({
      kind: 'investigate',
      by: 'model',
      levelOhm: 0.08,
    })
  })

  it('a lead that is not nulled is named before a criterion that knows nothing of it', () => {
    const through = { ...expected, expectedOhm: 0.6, spreadOhm: 0.04, isLeadIn: true }
    const verdict = firstVerdict(through, fourWire, read(0.6), [])
    expect(verdict).toEqual({ kind: 'unlikely', why: 'leadIn' })
    expect(asksForChecks(verdict)).toBe(false)
    expect(
      describeFirstVerdict(verdict, { ...read(0.6), method: 'twoWire' }, 0.6, wordsFor('metric')),
    ).toContain('null it, then read again')
    // more than lead and array explain stays to be investigated
    expect(kindOf(through, read(1.5))).toBe('investigate')
  })

  it('says of the criterion that more than its level is to be investigated, and the level itself is not', () => {
    const wide = { ...expected, spreadOhm: 0.1 }
    expect(kindOf(wide, read(0.1))).toBe('inLine')
    expect(firstVerdict(wide, fourWire, read(0.1001), [])).toEqual({
      kind: 'investigate',
      by: 'criterion',
      levelOhm: 0.1,
      isReject: false,
      isExpected: true,
    })
    expect(firstVerdict(expected, fourWire, read(0.2001), [])).toEqual({
      kind: 'investigate',
      by: 'criterion',
      levelOhm: 0.2,
      isReject: true,
      isExpected: false,
    })
  })

  it('is unlike what the model explains while within its criterion', () => {
    expect(firstVerdict(expected, fourWire, read(0.09), [])).toEqual({
      kind: 'unlikePeers',
      by: 'model',
      limitOhm: 0.08,
    })
  })

  it('is unlike its peers from five of them on, each held against its own expectation', () => {
    const values = read(0.07)
    expect(kindOf(expected, values, alike(4))).toBe('inLine')
    const verdict = firstVerdict(expected, fourWire, values, alike(5))
    expect(verdict).toMatchObject({ kind: 'unlikePeers', by: 'peers' })
    // three times ten percent above what peers read, and a little for the digits
    if (verdict.kind !== 'unlikePeers') throw new Error(verdict.kind)
    expect(verdict.limitOhm).toBeGreaterThan(0.065)
    expect(verdict.limitOhm).toBeLessThan(0.066)
    expect(firstVerdict(expected, fourWire, values, alike(5, 1.3))).toEqual({ kind: 'inLine', peers: 5 })
  })

  it('lets scattered peers scatter, and a coarse display show its digits', () => {
    const scattered = [0.7, 0.85, 1, 1.15, 1.3].map((ratio) => ({ readOhm: ratio, expectedOhm: 1 }))
    expect(kindOf(expected, read(0.07), scattered)).toBe('inLine')
    expect(kindOf(expected, read(0.07), alike(5), twoWire)).toBe('inLine')
  })

  it('cannot tell from nought what lies within the digits, where a sound pair lies there, too', () => {
    const bound = resolvedFromOhm(twoWire)
    expect(bound).toBeCloseTo(0.035, 12)
    const low = { ...expected, expectedOhm: 0.02, spreadOhm: 0.02 }
    expect(firstVerdict(low, twoWire, read(0.03), [])).toEqual({ kind: 'belowResolution', boundOhm: bound })
    expect(kindOf(low, read(bound), [], twoWire)).toBe('inLine')
    expect(kindOf({ ...low, expectedOhm: bound }, read(0.03), [], twoWire)).toBe('inLine')
    expect(kindOf(low, read(0.03), [], fourWire)).toBe('inLine')
  })

  it('has no metal path before all else, be it over range or not', () => {
    for (const path of ['soilOnly', 'none'] as const) {
      expect(firstVerdict({ ...expected, path }, fourWire, read(0.05), [])).toEqual({
        kind: 'noMetalPath',
        path,
      })
      expect(firstVerdict({ ...expected, path }, fourWire, over, [])).toEqual({ kind: 'noMetalPath', path })
    }
  })

  it('doubts over range, what is too low and what is far too high before any joint', () => {
    expect(firstVerdict(expected, fourWire, over, [])).toEqual({ kind: 'unlikely', why: 'over' })
    expect(kindOf({ ...expected, expectedOhm: 300, beyondRange: true }, over)).toBe('inLine')
    expect(firstVerdict(expected, fourWire, read(0.0199), [])).toEqual({ kind: 'unlikely', why: 'tooLow' })
    expect(kindOf(expected, read(0.0201))).toBe('inLine')
    expect(firstVerdict(expected, fourWire, read(10), [])).toEqual({ kind: 'unlikely', why: 'farHigh' })
    expect(kindOf(expected, read(9.99))).toBe('investigate')
    expect(kindOf({ ...noCriterion, expectedOhm: 12, spreadOhm: 1 }, read(12))).toBe('inLine')
  })

  it('takes the mean of both directions', () => {
    expect(kindOf(noCriterion, read(0.1, { reverseOhm: 0.04 }))).toBe('inLine')
    expect(kindOf(noCriterion, read(0.1, { reverseOhm: 0.1 }))).toBe('investigate')
  })

  it('of a loop clamp spreads as the levels of the joints on its loop', () => {
    const loop = loopExpectation(2, false, clamp)
    expect(loop.spreadOhm).toBeGreaterThan(0.8)
    expect(kindOf(loop, read(4), [], clamp)).toBe('inLine')
    expect(kindOf(loop, read(6), [], clamp)).toBe('investigate')
    expect(kindOf(loopExpectation(2, true, clamp), read(6), [], clamp)).toBe('inLine')
    expect(kindOf(loopExpectation(Infinity, false, clamp), over, [], clamp)).toBe('noMetalPath')
  })

  it('asks for checks of what is high and unexplained, and of nothing else', () => {
    const asks = (at: Expectation, values: Values) => asksForChecks(firstVerdict(at, fourWire, values, []))
    expect([read(0.09), read(0.15), read(50), over].map((values) => asks(expected, values))).toEqual([
      true,
      true,
      true,
      true,
    ])
    expect(asks(expected, read(0.05))).toBe(false)
    expect(asks(expected, read(0.001))).toBe(false)
    expect(asks({ ...expected, spreadOhm: 0.1 }, read(0.15))).toBe(false)
    expect(asks({ ...expected, path: 'none' }, over)).toBe(false)
  })
})

describe('the verdict of an electrode', () => {
  const [bond] = defaultCriteria
  const electrodes = {
    ...bond,
    id: 'rod',
    quantity: 'electrodeToEarth' as const,
    investigateAboveOhm: 10,
    rejectAboveOhm: 25,
  }
  const drawn = (criteria: readonly Criterion[]) => ({ criteria })

  it('comes from criteria for electrodes alone', () => {
    expect(electrodeVerdict(drawn([bond]), { form: 'ohm', ohm: 5000 })).toEqual({ kind: 'unjudged' })
    const judge = (ohm: number) => electrodeVerdict(drawn([bond, electrodes]), { form: 'ohm', ohm })
    expect(judge(10)).toEqual({ kind: 'electrode', verdict: 'within', levelOhm: 10 })
    expect(judge(10.1)).toEqual({ kind: 'electrode', verdict: 'investigate', levelOhm: 10 })
    expect(judge(25.1)).toEqual({ kind: 'electrode', verdict: 'reject', levelOhm: 25 })
    expect(electrodeVerdict(drawn([electrodes]), { form: 'over', atLeastOhm: 20 })).toMatchObject({
      verdict: 'reject',
    })
  })
})

describe('the words of a first verdict', () => {
  it('name what was read and what it was held against, with units', () => {
    const reading = { result: { form: 'ohm', ohm: 0.15 }, method: 'fourWire' } as const
    const verdict = firstVerdict(expected, fourWire, read(0.15), [])
    expect(nameFirstVerdict(verdict)).toBe('To investigate')
    expect(describeFirstVerdict(verdict, reading, 0.05, wordsFor('metric'))).toBe(
      'It reads 150 mΩ, where 50 mΩ is expected: more than the 100 mΩ of its criterion.',
    )
  })
})
