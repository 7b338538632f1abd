import { describe, expect, it } from 'vitest'
import { deviceActs } from '../../src/faultcurrent/devices/deviceActs.ts'
import { insulationSeen } from '../../src/faultcurrent/insulation/insulationSeen.ts'
import { personAnswer } from '../../src/faultcurrent/body/personAnswer.ts'
import type { ProtectiveDevice } from '../../src/model/schema/faults.ts'
import { faultRules, type FaultRule, type RuleRefusal } from '../../src/model/faultRules.ts'
import { describePermitted, describeTouch, zoneTexts } from '../../src/text/faultBodyText.ts'
import { describeDevice, describeInsulation, verdictWords } from '../../src/text/faultDeviceText.ts'
import { describeAtPointer } from '../../src/text/faultScreenText.ts'
import { describeRefusal, describeRuleSource, faultCaution, nameRule } from '../../src/text/faultRuleText.ts'
import { formatSeconds, type Units } from '../../src/text/units.ts'

const rules = Object.keys(faultRules) as FaultRule[]
const refusals: readonly RuleRefusal[] = [
  { refused: 'directCurrent' },
  { refused: 'alternatingCurrent' },
  { refused: 'tooShort', leastS: 0.03 },
  { refused: 'tooLong', mostS: 3 },
  { refused: 'tooFewVolts', aboveV: 50 },
  { refused: 'tooManyVolts', mostV: 300 },
  { refused: 'noRating' },
  { refused: 'unknownCharacteristic', known: ['gG', 'gPV'] },
]

function device(
  form: ProtectiveDevice['form'],
  characteristic: string,
  ratedA: number | null,
): ProtectiveDevice {
  return { id: 'd', name: 'F1', form, characteristic, ratedA, protects: null, note: '' }
}

function said(one: ProtectiveDevice, kind: 'ac' | 'dc', seesA: number, units: Units = 'metric'): string {
  const acts = deviceActs(one, { kind, seesA, isSudden: true, insulation: hidden })
  return describeDevice(one.name, acts, units)
    .map(({ text }) => text)
    .join(' ')
}

const hidden = insulationSeen({ mostV: 1000, poleOhm: 2e6, faultPathOhm: Infinity, isMetalPath: false })
const touch = (kind: 'ac' | 'dc', durationS: number | null, prospectiveV = 230) =>
  personAnswer(
    { kind, prospectiveV, ohmBetween: 0.01, durationS, soilOhmM: 100 },
    { other: null, surface: null, shoeOhm: 0, isWet: false },
  )
const joined = (lines: readonly { readonly text: string }[]) => lines.map(({ text }) => text).join(' ')

describe('rules of a fault answer', () => {
  it('have names that differ, and a source with how sure', () => {
    for (const units of ['metric', 'us'] as const)
      expect(new Set(rules.map((rule) => nameRule(rule, units))).size).toBe(rules.length)
    expect(describeRuleSource('fuseGates')).toBe('IEC 60269-1, 2006, Table 3 (read in a public copy)')
    expect(describeRuleSource('bodyDirect')).toContain('from memory')
  })

  it('say why they give no number, each in words of its own', () => {
    const sentences = refusals.map(describeRefusal)
    expect(new Set(sentences).size).toBe(refusals.length)
    for (const sentence of sentences) expect(sentence).toMatch(/^[A-Z][^]*\.$/)
    expect(describeRefusal({ refused: 'tooLong', mostS: 3 })).toContain('3 s')
    expect(describeRefusal({ refused: 'tooShort', leastS: 0.03 })).toContain('30 ms')
  })
})

describe('what a device does', () => {
  it('says loudly when it never acts, and why', () => {
    for (const [text, why] of [
      [said(device('fuse', 'gPV', 15), 'dc', 11), 'other strings'],
      [said(device('groundFaultFuse', '', 1), 'dc', 0.8), 'blind spot'],
      [said(device('residualCurrent', 'A', 0.03), 'dc', 5), 'smooth direct current'],
      [said(device('insulationMonitor', '', null), 'dc', 0), 'no metal path'],
      [said(device('circuitBreaker', 'B', 16), 'ac', 10), 'Something else has to end it'],
      [said(device('residualCurrent', 'A', 0.03), 'ac', 0.01), 'less than what makes it act'],
    ]) {
      expect(text).toContain('NEVER ACTS')
      expect(text.toLowerCase()).toContain(why.toLowerCase())
    }
  })

  it('tells of an insulation monitor without amperes: it measures ohms', () => {
    const text = said(device('insulationMonitor', '', null), 'dc', 0)
    expect(text).not.toContain('sees')
    expect(text).toMatch(/^F1: it NEVER ACTS/)
  })

  it('gives the band in which it acts, and what it does not know', () => {
    expect(said(device('circuitBreaker', 'B', 16), 'ac', 100)).toContain('acts within 0.1 s.')
    expect(said(device('fuse', 'gG', 100), 'ac', 580)).toContain('within 5 s, not before 0.1 s')
    expect(said(device('fuse', 'gG', 100), 'ac', 140)).toContain('may act and may not, not before 10 s')
    const refused = said(device('circuitBreaker', 'B', 16), 'dc', 100)
    expect(refused).toContain('do not cover it')
    expect(refused).toContain('says nothing of direct current')
  })

  it('speaks of ground on a US site', () => {
    const blind = said(device('groundFaultFuse', '', 1), 'dc', 0.8, 'us')
    expect(blind).toContain('grounded pole')
    expect(blind).not.toMatch(/\bearth/)
    expect(said(device('groundFaultFuse', '', 1), 'dc', 0.8)).toContain('earthed pole')
  })

  it('has a word of its own for each verdict', () => {
    expect(new Set(Object.values(verdictWords)).size).toBe(4)
  })
})

describe('insulation monitoring', () => {
  it('says that it does not alarm although there is a fault, or that it does', () => {
    expect(describeInsulation(hidden, 'metric')).toContain('NO ALARM, although there is a fault')
    const seen = insulationSeen({ mostV: 1000, poleOhm: 2e6, faultPathOhm: 0.02, isMetalPath: true })
    expect(describeInsulation(seen, 'metric')).toBe(
      'Insulation monitoring reads 20 mΩ; it alarms below 33.3 kΩ: it alarms.',
    )
    const sound = insulationSeen({ mostV: 1000, poleOhm: Infinity, faultPathOhm: null, isMetalPath: true })
    expect(describeInsulation(sound, 'us')).toContain('no path at all')
    expect(describeInsulation(sound, 'us')).toMatch(/no alarm\.$/)
  })
})

describe('one who touches', () => {
  it('has three bodies with amperes and what they do, and how long', () => {
    const text = joined(describeTouch(touch('ac', null), 'metric'))
    expect(text).toContain('Nothing surely ends it')
    expect(text).toContain('from the left hand to both feet')
    expect(text).toContain(zoneTexts.heartLikely.says)
    expect(text.match(/ mA: /g)?.length).toBe(3)
    expect(text).toContain('zones of effects, alternating current; IEC 60479-1')
    expect(joined(describeTouch(touch('dc', null), 'metric'))).toContain('zones of effects, direct current')
    expect(joined(describeTouch(touch('ac', 0.4), 'metric'))).toContain('within 0.4 s')
  })

  it('has the volts of each rule beside its own, or why there are none', () => {
    const person = touch('ac', 0.5, 300)
    const line = (rule: FaultRule) =>
      describePermitted(person.permitted.filter((row) => row.rule === rule)[0], person, 'metric')
    expect(line('permittedConventional')).toContain(
      '50 V before anybody touches. Here 300 V, MORE than that.',
    )
    expect(line('permittedEn50522Of2010')).toContain('220 V across the body')
    const few = touch('ac', 0.5, 20)
    expect(describePermitted(few.permitted[4], few, 'metric')).toContain('Here 20 V, no more than that.')
    const direct = touch('dc', null)
    expect(describePermitted(direct.permitted[0], direct, 'metric')).toContain(
      'no answer. It was made for alternating current',
    )
  })
})

describe('all of it', () => {
  it('never says safe, and leaves nothing unfilled', () => {
    for (const units of ['metric', 'us'] as const) {
      const all = [
        faultCaution,
        ...rules.flatMap((rule) => [nameRule(rule, units), describeRuleSource(rule)]),
        ...refusals.map(describeRefusal),
        ...Object.values(zoneTexts).flatMap(({ word, says }) => [word, says]),
        joined(describeTouch(touch('ac', 0.4), units)),
        joined(describeTouch(touch('dc', null), units)),
        describeInsulation(hidden, units),
      ].join(' ')
      expect(all).not.toMatch(/\bsafe|undefined|NaN|null|\[object/i)
    }
  })

  it('defers to local code and licensed persons', () => {
    expect(faultCaution).toContain('Local code')
    expect(faultCaution).toContain('licensed persons')
    expect(faultCaution).toContain('teaching model')
  })
})

describe('seconds', () => {
  it.each([
    [0.04, '40 ms'],
    [0.0999, '0.1 s'],
    [0.4, '0.4 s'],
    [60, '60 s'],
    [120, '120 s'],
    [600, '10 min'],
    [3599, '1 h'],
    [7200, '2 h'],
  ])('%f are %s', (seconds, text) => expect(formatSeconds(seconds)).toBe(text))
})

it.each([
  [44.9, 'Rail: 44.9 V'],
  [-1.81, 'Rail: −1.81 V'],
  [0, 'Rail: 0 V'],
  [-2e-7, 'Rail: below 0.001 mV'],
])('%f V of a part are told with their sign, for two of them to be compared', (volt, words) => {
  expect(describeAtPointer('rail', { kind: 'part', volt }, false)).toBe(words)
})
