import { randomStream } from '../../src/base/random.ts'
import type { LocateAnswer } from '../../src/model/answers.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { siteFormat, siteVersion } from '../../src/model/schema/site.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import { drawTruth, type Planted } from '../generator/drawTruth.ts'
import { fieldDrawing, fieldRows, fieldTables } from '../generator/fieldDrawing.ts'
import { drawUuid } from '../generator/identity.ts'
import { locateIn } from '../generator/locateIn.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'

const ids = randomStream(1)
/** The field's drawing, once for all trials. */
export const benchDrawing = fieldDrawing({ site: drawUuid(ids), revision: drawUuid(ids) })
const siteId = drawUuid(ids)

/** All jumpers of the field, by number from 1. */
export const jumpers: readonly string[] = Array.from({ length: fieldRows }, (_, r) =>
  Array.from({ length: fieldTables - 1 }, (_, t) => `R${r + 1}/T${t + 1}+T${t + 2}~1`),
).flat()

export interface Trial {
  readonly seed: number
  readonly planted: Planted
  readonly site: Site
  readonly answer: LocateAnswer
}

/** A new truth with the given faults, a visit by the field's plan with contacts at random, and its answer. */
export function runTrial(prepared: PreparedNetwork, seed: number, planted: Planted): Trial {
  const random = randomStream(seed)
  const record = takeVisit({
    truth: drawTruth(prepared.network, random, planted),
    plan: benchDrawing.plans[0],
    kit: twoWireKit,
    lead: longLead,
    random,
    about: {
      startsAt: '2026-05-12T06:30:00Z',
      party: ['Tester 1'],
      purpose: 'Benchmark',
      weather: '',
      ambientC: 18,
      isolation: '',
      inverter: 'unknown',
      isolators: 'unknown',
      lockOut: '',
    },
    contacts: 'atRate',
  })
  const site: Site = {
    format: siteFormat,
    version: siteVersion,
    id: siteId,
    name: `Trial ${seed}`,
    drawing: benchDrawing,
    record,
  }
  return { seed, planted, site, answer: locateIn(site, prepared) }
}

/** Place of the group that holds a joint among the suspects, from 1; Infinity where none does. */
export function rankOf({ groups }: LocateAnswer, joint: string): number {
  const place = groups.findIndex((group) => group.joints.some((suspect) => suspect.joint === joint))
  return place < 0 ? Infinity : place + 1
}
