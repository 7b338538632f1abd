import { readFileSync } from 'node:fs'
import { assert } from '../../src/base/assert.ts'
import { randomStream } from '../../src/base/random.ts'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { fieldStory } from '../generator/demoSites.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { drawTruth } from '../generator/drawTruth.ts'
import { drawUuid } from '../generator/identity.ts'
import { roundTo } from '../generator/instrument.ts'
import { twoWireKit } from '../generator/testKits.ts'

/** What two sound clips add to every reading. */
const clipsOhm = 0.003
/** Of the demo field: its two ids are drawn first, then what is true of it. */
const seed = 20260606
/** Second points of the readings that tell the jumpers of the bad row apart. */
const deciding = /^R4\/T[23567]\//

function demoField(): Site {
  const file = new URL('../../demo-data/field.json', import.meta.url)
  const opened = openSite(readFileSync(file), 'field.json')
  assert(opened.ok, 'the demo field opens')
  return opened.value
}

export function readingsOf({ record }: Site): readonly EntryOf<'reading'>[] {
  return record.filter((entry): entry is EntryOf<'reading'> => entry.entry === 'reading')
}

export const field = demoField()

/** The demo field as a site of its own, without the readings that tell where in its fourth row the bad joint is. */
export const undecidedField: Site = {
  ...field,
  id: '5e0c1c52-7a1f-4d0b-8f2a-3d6f0b9a7c11',
  name: 'Larkmoor Field, not gone back to',
  record: field.record.filter((entry) => entry.entry !== 'reading' || !deciding.test(entry.to.part)),
}

export const undecidedFile = {
  name: 'not-gone-back-to.json',
  mimeType: 'application/json',
  buffer: Buffer.from(saveSite(undecidedField)),
}

/** What a meter without error, its clips well seated, shows between two parts of the demo field as it really is. */
export function fieldMeter(): (from: string, to: string) => number {
  const random = randomStream(seed)
  for (const id of [field.id, field.drawing.revision]) {
    assert(drawUuid(random) === id, 'the demo field was made from another seed')
  }
  const { openJumper } = fieldStory
  const truth = drawTruth(drawnNetwork(field.drawing), random, { opened: [openJumper] })
  return (from, to) => roundTo(twoWireKit.resolutionOhm, truth.trueResistance(from, to) + clipsOhm)
}
