import { randomStream } from '../../src/base/random.ts'
import { siteFormat, siteVersion, type Site } from '../../src/model/schema/site.ts'
import { drawnNetwork } from './drawnNetwork.ts'
import { drawTruth } from './drawTruth.ts'
import { drawUuid } from './identity.ts'
import { pairOf } from './pairOf.ts'
import { takeVisit } from './takeVisit.ts'
import { longLead, twoWireKit } from './testKits.ts'
import { trackerDrawing } from './trackerDrawing.ts'
import { trackerPlan } from './trackerPlan.ts'

/** What is wrong in the tracker plant, and with two of its readings. */
export const trackerStory = {
  openJumper: 'R47/T78+T79~1',
  /** The readings that cross it: two within the row, one to the row beside. */
  crossing: [
    { from: 'R47/T75/L1.5', to: 'R47/T80/L5.4' },
    { from: 'R47/T75/L1.5', to: 'R47/T79/F1.3' },
    { from: 'R47/T85/L1.5', to: 'R48/T85/L1.5' },
  ],
  /** A clip on a painted mark; scraped, seated again and read once more. */
  repeatedPair: { from: 'R47/T35/L1.5', to: 'R47/T40/L5.4', poorOhm: 0.78 },
  /** A poor contact that nobody repeated: a reading that goes beyond it is as it should be. */
  contradictedPair: { from: 'R48/T75/L1.5', to: 'R48/T73/F1.3', poorOhm: 0.36 },
} as const

export function trackerDemo(): Site {
  const random = randomStream(20261016)
  const [site, revision] = [drawUuid(random), drawUuid(random)]
  const drawing = trackerDrawing({ site, revision })
  const { openJumper, repeatedPair, contradictedPair } = trackerStory
  const repeated = pairOf(trackerPlan, repeatedPair)
  const record = takeVisit({
    truth: drawTruth(drawnNetwork(drawing), random, { opened: [openJumper] }),
    plan: trackerPlan,
    kit: { ...twoWireKit, serial: 'A-2' },
    lead: longLead,
    random,
    about: {
      startsAt: '2026-04-21T06:00:00Z',
      party: ['Tester 3', 'Helper 2'],
      purpose: 'Spring round, block 3',
      weather: 'dry, light wind',
      ambientC: 15,
      isolation: 'Inverter 3 off, tables stowed flat, drive locked',
      inverter: 'off',
      isolators: 'open',
      lockOut: '',
    },
    contacts: new Map([
      [repeated, repeatedPair.poorOhm],
      [pairOf(trackerPlan, contradictedPair), contradictedPair.poorOhm],
    ]),
    repeatAfterReseating: new Set([repeated]),
    readingNotes: new Map([[repeated, 'Paint mark under the clip.']]),
    notesAfter: new Map([
      [
        pairOf(trackerPlan, { from: 'R47/T85/L1.5', to: 'R48/T85/L1.5' }),
        { about: 'R47/T85/L1.5', text: 'High to the row beside as well. The rest of this row reads low.' },
      ],
    ]),
  })
  return { format: siteFormat, version: siteVersion, id: site, name: 'Ostermoor Plain', drawing, record }
}
