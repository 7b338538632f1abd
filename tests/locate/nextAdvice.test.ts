import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { openSite } from '../../src/files/openSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawLeadOffset } from '../generator/drawLead.ts'
import { drawTruth } from '../generator/drawTruth.ts'
import { drawInstrument } from '../generator/instrument.ts'
import { locateIn, preparedOf } from '../generator/locateIn.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'
import { follow } from './nextAdvice.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field.json')
if (!opened.ok) throw new Error(JSON.stringify(opened.error))
const field = opened.value
const prepared = preparedOf(field)

/**
 * The demo field with an open jumper somewhere, read as its plan has it but for most tables of the row that holds it:
 * four jumpers or so look the same, or there is a poor contact.
 */
function undecidedVisit(seed: number) {
  const random = randomStream(seed)
  const row = 1 + random.integer(6)
  const gap = 2 + random.integer(6)
  const bad = `R${row}/T${gap}+T${gap + 1}~1`
  const truth = drawTruth(prepared.network, random, { opened: [bad] })
  const [plan] = field.drawing.plans
  const pairs = plan.pairs.filter(({ to }) => !new RegExp(`^R${row}/T[23567]/`).test(to))
  const record = takeVisit({
    truth,
    plan: { ...plan, pairs },
    kit: twoWireKit,
    lead: longLead,
    random,
    contacts: 'atRate',
    about: {
      startsAt: '2026-05-12T06:30:00Z',
      party: [],
      purpose: '',
      weather: '',
      ambientC: 16,
      isolation: '',
      inverter: 'unknown',
      isolators: 'unknown',
      lockOut: '',
    },
  })
  const start: Site = { ...field, record }
  const instrument = drawInstrument(twoWireKit, random)
  const offset = drawLeadOffset(longLead, 16, true, random)
  return { start, bad, going: { truth, random, instrument, offset } }
}

describe('following the advice on a field that is undecided', () => {
  it.each([1, 2, 3, 5, 7])('leads to the open jumper within four readings, seed %i', (seed) => {
    const { start, bad, going } = undecidedVisit(seed)
    const before = locateIn(start, prepared)
    expect(before.headline).toBe('undecided')
    expect(before.groups[0].jointCount).toBeGreaterThan(1)

    const { joints, readings, minutes, answers, stop } = follow(start, prepared, bad, going, 8)
    expect(joints).toEqual([bad])
    expect(readings).toBeGreaterThan(0)
    expect(readings).toBeLessThanOrEqual(4)
    expect(minutes).toBeLessThan(15)
    // by looking, or because no further reading is worth its time
    expect(['goOn', 'foundIt', 'nothingWorthIt']).toContain(stop)
    const [first] = answers
    const last = answers[answers.length - 1]
    expect(first.stop).toBe('goOn')
    expect(last.entropyBits).toBeLessThan(0.6 * first.entropyBits)
    // where it is left off, it is with a look at the joint
    if (stop !== 'goOn') expect(last.actions[0]).toMatchObject({ kind: 'look', joint: bad })
  })
})
