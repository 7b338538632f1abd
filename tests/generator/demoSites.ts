import { randomStream } from '../../src/base/random.ts'
import { siteFormat, siteVersion, type Site } from '../../src/model/schema/site.ts'
import { drawnNetwork } from './drawnNetwork.ts'
import { drawTruth } from './drawTruth.ts'
import { fieldDrawing } from './fieldDrawing.ts'
import { drawUuid } from './identity.ts'
import { pairOf } from './pairOf.ts'
import { roofDrawing } from './roofDrawing.ts'
import { takeVisit } from './takeVisit.ts'
import { fourWireKit, longLead, twoWireKit } from './testKits.ts'
import { trackerDemo } from './trackerDemo.ts'

/** What is wrong in the field, and with two of its readings. */
export const fieldStory = {
  openJumper: 'R4/T6+T7~1',
  /** A clip on zinc that had gone dull; filed, seated again and read once more. */
  repeatedPair: { from: 'R2/T4/L1.6', to: 'R2/T7/L4.11', poorOhm: 1.6 },
  /** A poor contact that nobody repeated: its neighbours further out read as they should. */
  contradictedPair: { from: 'R5/T4/L1.6', to: 'R5/T6/F1.6', poorOhm: 0.42 },
} as const

/** What is wrong on the roof: a lug that four-wire clips show and a two-wire tester does not. */
export const roofStory = { raisedLug: 'C1.4~lug', addedOhm: 0.021 } as const

export function fieldDemo(): Site {
  const random = randomStream(20260606)
  const [site, revision] = [drawUuid(random), drawUuid(random)]
  const drawing = fieldDrawing({ site, revision })
  const [plan] = drawing.plans
  const { openJumper, repeatedPair, contradictedPair } = fieldStory
  const repeated = pairOf(plan, repeatedPair)
  const record = takeVisit({
    truth: drawTruth(drawnNetwork(drawing), random, { opened: [openJumper] }),
    plan,
    kit: { ...twoWireKit, serial: 'A-1' },
    lead: longLead,
    random,
    about: {
      startsAt: '2026-05-12T06:30:00Z',
      party: ['Tester 1', 'Helper 1'],
      purpose: 'First test after erection',
      weather: 'dry, some cloud',
      ambientC: 16,
      isolation: 'Inverter 1 off, strings open at the inverter',
      inverter: 'off',
      isolators: 'open',
      lockOut: 'FG-07',
    },
    contacts: new Map([
      [repeated, repeatedPair.poorOhm],
      [pairOf(plan, contradictedPair), contradictedPair.poorOhm],
    ]),
    repeatAfterReseating: new Set([repeated]),
    readingNotes: new Map([[repeated, 'Zinc is dull here.']]),
    notesAfter: new Map([
      [
        pairOf(plan, { from: 'B1', to: 'R6/T1/L4.1' }),
        { about: 'B1', text: 'All lugs on the bar are marked and look tight.' },
      ],
      [
        pairOf(plan, { from: 'R4/T4/L1.6', to: 'R4/T8/L1.1' }),
        { about: 'R4/T8/L1.1', text: 'High out here. Ran out of time to go back; see the numbers first.' },
      ],
    ]),
  })
  return { format: siteFormat, version: siteVersion, id: site, name: 'Larkmoor Field', drawing, record }
}

export function roofDemo(): Site {
  const random = randomStream(20260603)
  const [site, revision] = [drawUuid(random), drawUuid(random)]
  const drawing = roofDrawing({ site, revision })
  const [plan] = drawing.plans
  const { raisedLug, addedOhm } = roofStory
  const record = takeVisit({
    truth: drawTruth(drawnNetwork(drawing), random, { raised: [{ joint: raisedLug, addedOhm }] }),
    plan,
    kit: { ...fourWireKit, serial: 'B-1' },
    lead: null,
    random,
    about: {
      startsAt: '2026-06-03T07:15:00Z',
      party: ['Tester 2'],
      purpose: 'Handover test',
      weather: 'dry, sunny',
      ambientC: 20,
      isolation: 'Inverter off, both strings unplugged',
      inverter: 'off',
      isolators: 'open',
      lockOut: '',
    },
    contacts: new Map(),
    notesAfter: new Map([
      [
        pairOf(plan, { from: 'B1', to: 'R3/T2/L2.7' }),
        { about: null, text: 'Row 2 is a little higher than the others, well below what the contract asks.' },
      ],
    ]),
  })
  return { format: siteFormat, version: siteVersion, id: site, name: 'Warehouse Roof 2', drawing, record }
}

/** The demo sites by the names of their files in demo-data/. */
export const demoSites = {
  'field.json': fieldDemo,
  'roof.json': roofDemo,
  'tracker.json': trackerDemo,
} as const
