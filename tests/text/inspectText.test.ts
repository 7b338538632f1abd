import { describe, expect, it } from 'vitest'
import type { CountedJoint, JointAnswer, OhmShare, PartAnswer } from '../../src/model/answers.ts'
import {
  describeDiffers,
  describeJointKind,
  describeJointPlace,
  describeNoEarthBar,
  describePartKind,
  jointFacts,
  partFacts,
  readingFacts,
} from '../../src/text/inspectText.ts'
import { openNameBook } from '../../src/text/places.ts'
import { reading } from './locateAnswers.ts'
import { namedDrawing, trackerBook } from './namedSite.ts'

const book = openNameBook(namedDrawing())
const usBook = openNameBook(namedDrawing('us'))
const basis = { drawingRevision: '00000000-0000-4000-8000-000000000002', recordLength: 5 }

const counted: CountedJoint = {
  medianOhm: 0.0008,
  fixedOhm: 0,
  madeOf: [{ form: 'catalogue', ohm: 0.0008, kind: 'jumper', source: 'judgement' }],
  lnSpread: 0.4,
  defectRate: 0.007,
  leverage: 1,
  soundOhm: 0.0008,
  openOhm: Infinity,
  loopClampOhm: Infinity,
  isEarthPath: false,
  isMetalBridge: true,
  cutsOffParts: 152,
  cutsOffFrom: 'R2/T4/F1.1',
}
const joint: JointAnswer = {
  basis,
  joint: 'R2/T3+T4~1',
  from: 'R2/T3/F1.3',
  to: 'R2/T4/F1.1',
  kind: 'jumper',
  kindName: 'jumper with its lugs',
  purpose: 'relied',
  source: 'judgement',
  differs: 'no',
  counted,
  leftOut: null,
}
const part: PartAnswer = {
  basis,
  part: 'R2/T4/F1.1',
  kind: 'frame',
  atM: { x: 1, y: 2 },
  metalSection: { parts: 300, earthBars: 1 },
  joints: [],
  jointCount: 3,
  toEarthBar: { earthBar: 'B1', resistanceOhm: 0.02, expectedOhm: 0.021, spreadOhm: 0.004 },
}
const valueOf = (facts: readonly { name: string; value: string }[], name: string) =>
  facts.find((fact) => fact.name === name)?.value

describe('a joint', () => {
  it('tells median, spread, rate and both states across its own ends', () => {
    const facts = jointFacts(joint, 'metric')
    expect(valueOf(facts, 'Median when sound')).toBe('0.8 mΩ')
    expect(valueOf(facts, 'Spread')).toContain('within a factor of 1.5')
    expect(valueOf(facts, 'Bad when new')).toBe('0.7 %')
    expect(valueOf(facts, 'Read across its own ends')).toBe('0.8 mΩ sound, no path open')
    expect(valueOf(facts, 'A loop clamp round it')).toBe('finds no loop')
  })

  it.each<[OhmShare, string, string]>([
    [
      {
        form: 'metal',
        ohm: 0.002,
        material: 'copper',
        areaMm2: 13.3,
        lengthM: 3.048,
        temperatureC: 20,
      },
      '2 mΩ: 3.05 m of copper, 13.3 mm², at 20 °C',
      '2 mΩ: 10 ft of copper, 13.3 mm², at 68 °F',
    ],
    [
      { form: 'soil', ohm: 40, of: 'rod', soilOhmM: 100, soilSource: '' },
      '40 Ω: one rod by itself in soil of 100 Ωm',
      '40 Ω: one rod by itself in soil of 100 Ωm',
    ],
    [
      { form: 'given', ohm: 0.4, by: 'asBuilt' },
      '400 mΩ, entered for this joint as it was found',
      '400 mΩ, entered for this joint as it was found',
    ],
  ])('tells what its ohms were computed from: %o', (share, metric, us) => {
    const made = { ...joint, counted: { ...counted, madeOf: [share] } }
    expect(jointFacts(made, 'metric').at(-1)?.value).toBe(metric)
    expect(jointFacts(made, 'us').at(-1)?.value).toBe(us)
  })

  it('says what it cuts off when it is the only metal, and what else leads around it', () => {
    expect(describeJointPlace(joint, book)).toBe(
      'No other metal leads around it: if it opens, 152 parts have no metal path to the rest, ' +
        'frame 1.1, table 4, row 2 among them.',
    )
    const around = { ...joint, counted: { ...counted, isMetalBridge: false } }
    expect(describeJointPlace(around, book)).toContain('Other metal leads around it')
    const soil = { ...joint, counted: { ...counted, isEarthPath: true } }
    expect(describeJointPlace(soil, book)).toContain('never a bond')
  })

  it('says why it is not counted', () => {
    expect(describeJointPlace({ ...joint, counted: null, leftOut: 'absent' }, book)).toContain(
      'no joint here',
    )
    expect(jointFacts({ ...joint, counted: null, leftOut: 'incidental' }, 'metric')).toEqual([])
  })

  it('says that nobody relies on bare contact, and where the design differs', () => {
    expect(describeJointKind({ ...joint, purpose: 'incidental' }, book)).toContain('nobody relies on it')
    expect(describeJointKind({ ...joint, kindName: 'a\u202eb' }, book)).toBe('ab')
    expect(describeDiffers(joint)).toBeNull()
    expect(describeDiffers({ ...joint, differs: 'asBuilt' })).toContain('counted as found')
  })
})

describe('a part', () => {
  it('tells its metal section and the way to the earth bar, in the words of the site', () => {
    expect(valueOf(partFacts(part, book), 'Metal section')).toBe('300 parts joined by metal, 1 earth bar')
    expect(valueOf(partFacts(part, book), 'Expected to the earth bar')).toMatch(
      /^21 ± 4 mΩ to Main earth bar/,
    )
    expect(valueOf(partFacts(part, usBook), 'Expected to the ground bar')).toBeDefined()
    expect(describePartKind({ part: 'R2/T4/L1.1', kind: 'longMember' }, book)).toBe('rail')
    expect(describePartKind({ part: 'R2/T4/L1.1', kind: 'longMember' }, trackerBook())).toBe('tube')
    expect(describePartKind({ part: 'R2/T4/L2.1', kind: 'longMember' }, trackerBook())).toBe('rail')
    expect(describePartKind({ part: 'G1', kind: 'electrode' }, usBook)).toBe('ground electrode')
  })

  it('that metal joins to no earth bar is said to be unbonded, whatever a meter reads', () => {
    const alone = { ...part, metalSection: { parts: 4, earthBars: 0 }, toEarthBar: null }
    expect(describeNoEarthBar(alone, book)).toContain('no metal joins this part to an earth bar')
    expect(describeNoEarthBar(alone, usBook)).toContain('to a ground bar')
    expect(describeNoEarthBar(part, book)).toBeNull()
    expect(valueOf(partFacts(alone, book), 'Metal section')).toBe(
      '4 parts joined by metal, no earth bar among them',
    )
  })
})

describe('a reading', () => {
  it('is taken apart into network, clips and lead', () => {
    expect(readingFacts(reading('r1'))).toEqual([
      { name: 'The meter should show', value: '31 mΩ give or take 20 mΩ' },
      { name: 'From the network', value: '25 mΩ' },
      { name: 'From the clips', value: '4 mΩ' },
      { name: 'Left in the lead', value: '+2 mΩ' },
    ])
  })

  it('between parts that nothing joins has no pieces', () => {
    const none = reading('r1', { expectedOhm: Infinity, networkOhm: Infinity })
    expect(readingFacts(none)).toEqual([{ name: 'The meter should show', value: 'no path' }])
  })
})
