import { randomStream } from '../../src/base/random.ts'
import type { OhmOrOver } from '../../src/model/schema/record.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawContact } from '../generator/drawContact.ts'
import { drawLeadOffset } from '../generator/drawLead.ts'
import { fieldStory } from '../generator/demoSites.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { drawTruth } from '../generator/drawTruth.ts'
import { drawInstrument } from '../generator/instrument.ts'
import { spotOn } from '../generator/spotOn.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'
import { field } from './undecidedField.ts'

/** The demo field as it is before anyone has measured in it. */
export const unmeasuredField: Site = {
  ...field,
  id: '0b7d2a86-55c4-4be9-9d0e-6f3f1f0f7a20',
  name: 'Larkmoor Field, first visit',
  record: [],
}

export const unmeasuredFile = {
  name: 'first-visit.json',
  mimeType: 'application/json',
  buffer: Buffer.from(saveSite(unmeasuredField)),
}

const airC = 16
const hoursPerReading = 120 / 3600

export interface FieldMeter {
  /** What the display shows between two parts, the clips put on afresh; contacts are poor as often as they are. */
  show(from: string, to: string, isSecondTry: boolean): OhmOrOver
  /** The lead is unrolled and nulled. */
  nullLead(): void
  /** The open jumper is replaced. */
  repair(): void
}

/**
 * A meter with a long lead in the demo field, where one jumper is open: gain and digits of the instrument, the lead's
 * offset and its drift, and the contacts are drawn from a seed. It begins with a lead that is not nulled.
 */
export function meterInField(seed: number): FieldMeter {
  const network = drawnNetwork(field.drawing)
  // one seed draws the same array twice: as it is, and as it is with the jumper sound
  const broken = drawTruth(network, randomStream(seed), { opened: [fieldStory.openJumper] })
  const sound = drawTruth(network, randomStream(seed))
  const random = randomStream(seed + 1)
  const instrument = drawInstrument(twoWireKit, random)
  let truth = broken
  let offset = drawLeadOffset(longLead, airC, false, random)
  let hours = 0
  return {
    show(from, to, isSecondTry) {
      hours += hoursPerReading
      const contact = drawContact('twoWire', [spotOn(from), spotOn(to)], isSecondTry, random)
      return instrument.read(truth.trueResistance(from, to) + contact + offset(hours))
    },
    nullLead() {
      offset = drawLeadOffset(longLead, airC, true, random)
      hours = 0
    },
    repair() {
      truth = sound
    },
  }
}
