import { describe, expect, it } from 'vitest'
import { defaultKits } from '../../src/model/kits.ts'
import type { ExpectAnswer } from '../../src/model/answers.ts'
import {
  describeBeyondKit,
  describeCriterion,
  describeEntered,
  describeExpected,
  describeNulled,
  describeRow,
  describeSpot,
  nameLead,
  nameKitMethod,
} from '../../src/text/entryText.ts'
import { openNameBook } from '../../src/text/places.ts'
import { reading } from './locateAnswers.ts'
import { namedDrawing } from './namedSite.ts'

const book = openNameBook(namedDrawing())
const usBook = openNameBook(namedDrawing('us'))

const expected: ExpectAnswer = {
  basis: { drawingRevision: '00000000-0000-4000-8000-000000000002', recordLength: 5 },
  from: 'B1',
  to: 'R2/T1/F1.1',
  path: 'metal',
  resistanceOhm: 0.02,
  networkOhm: 0.021,
  contactOhm: 0.004,
  leadOffsetOhm: 0.002,
  expectedOhm: 0.0268,
  spreadOhm: 0.0194,
  beyondRange: false,
  criterion: {
    criterion: 'pathToEarthBar',
    investigateOhm: 0.52,
    rejectOhm: null,
    conductorOhm: 0.02,
    otherQuantity: false,
    lowCurrent: null,
  },
}

describe('what a sound array reads', () => {
  it('has a value, its spread and one unit', () => {
    expect(describeExpected(expected, book)).toBe('A sound array reads 26.8 mΩ give or take 19 mΩ here.')
  })

  it('never calls soil a bond, in the words of the site', () => {
    const soil = { ...expected, path: 'soilOnly', expectedOhm: 3.2, spreadOhm: 1.6 } as const
    expect(describeExpected(soil, book)).toMatch(/reads 3.2 Ω .* No metal path: only soil .* remote earth/)
    expect(describeExpected(soil, usBook)).toMatch(/remote ground/)
  })

  it('is no path where nothing joins the two, and says when the range ends before', () => {
    const none = {
      ...expected,
      path: 'none',
      expectedOhm: Infinity,
      spreadOhm: 0,
      beyondRange: true,
    } as const
    expect(describeExpected(none, book)).toBe('No path: neither metal nor soil joins the two.')
    expect(describeExpected({ ...expected, beyondRange: true }, book)).toContain('beyond the range')
  })

  it('comes with the level of its criterion and where that comes from', () => {
    expect(describeCriterion(expected, book)).toBe(
      'More than 520 mΩ is to be investigated (criterion “Path to the earth bar”, Common practice).',
    )
    const none = { ...expected.criterion, criterion: null, investigateOhm: null }
    expect(describeCriterion({ ...expected, criterion: none }, book)).toBeNull()
  })
})

describe('instruments and leads', () => {
  it('say why they do not read a pair', () => {
    expect(defaultKits.map(nameKitMethod)).toEqual([
      'two-wire',
      'four-wire',
      'two-wire',
      'reads a loop',
      'reads an electrode',
    ])
  })

  it('name a lead in the units of the site', () => {
    const lead = { id: 'l', name: 'reel\n', lengthM: 50, areaMm2: 1.5, material: 'copper' } as const
    expect(nameLead(lead, 'metric')).toBe('reel, 50 m of 1.5 mm²')
    expect(nameLead(lead, 'us')).toBe('reel, 164 ft of 1.5 mm²')
  })

  it('say where their range ends', () => {
    expect(describeBeyondKit(defaultKits[0])).toContain('shows over range above 200 Ω')
  })

  it('say whether the leads are nulled', () => {
    expect(describeNulled(null, 0)).toBe('Leads not nulled in this visit.')
    expect(describeNulled('2031-05-04T08:05:00Z', 0)).toBe(
      'Leads nulled 2031-05-04 08:05, nothing read since.',
    )
    expect(describeNulled('2031-05-04T08:05:00Z', 1)).toContain('1 reading since')
  })
})

describe('smaller sentences', () => {
  it('warn of a coating and of a bolt head only', () => {
    expect(describeSpot({ spot: 'face', surface: 'coated' })).toContain('coating insulates')
    expect(describeSpot({ spot: 'boltHead', surface: 'bare' })).toContain('passes by the joint')
    expect(describeSpot({ spot: 'face', surface: 'pierced' })).toBeNull()
  })

  it('tell what was expected beside what was read', () => {
    expect(describeRow(reading('r1'))).toBe('expected 31 mΩ')
    expect(describeRow(reading('r1', { expectedOhm: Infinity }))).toBe('no path expected')
    expect(describeRow(reading('r1', { verdict: 'setAside', setAside: 'withdrawn' }))).toBe('')
    expect(describeRow(undefined)).toBe('')
  })

  it('number a reading that was entered', () => {
    expect(describeEntered(51)).toMatch(/^Reading 51 entered\./)
    expect(describeEntered(null)).toMatch(/^Reading entered\./)
  })
})
