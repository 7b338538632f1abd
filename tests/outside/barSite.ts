import { assert } from '../../src/base/assert.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { AsBuilt } from '../../src/model/schema/equipment.ts'
import type { JointKind } from '../../src/model/schema/jointKind.ts'
import type { EntryOf, Kit, Lead } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { compileNetwork } from '../../src/network/compile.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'

/** A joint between two bars, counted from 0. */
export interface BarJoint {
  readonly from: number
  readonly to: number
  readonly kind: string
  /** In place of the kind's median. */
  readonly medianOhm?: number
}

const uuid = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`
const at = (minute: number): string => new Date(Date.UTC(2031, 4, 4, 8) + minute * 60_000).toISOString()

/**
 * Any network as a site: earth bars in a line, two metres apart, and a joint of its own between any two. No metal
 * beside the joints and no soil, so that the network is the graph that is written down, and nothing else can go bad.
 */
export function barSite(bars: number, joints: readonly BarJoint[], kinds: readonly JointKind[]): Site {
  const site = newSite({ id: uuid(1), revision: uuid(2), name: 'bars', units: 'metric' })
  const computed = defaultJointKinds.filter(({ medianOhm }) => medianOhm === null)
  return {
    ...site,
    drawing: {
      ...site.drawing,
      jointKinds: [...computed, ...kinds],
      nextIds: { ...site.drawing.nextIds, earthBar: bars + 1, extraJoint: joints.length + 1 },
      earthBars: Array.from({ length: bars }, (_, k) => ({ id: k + 1, label: '', atM: { x: 2 * k, y: 0 } })),
      extraJoints: joints.map(({ from, to, kind, medianOhm = null }, k) => ({
        id: k + 1,
        label: '',
        from: barName(from),
        to: barName(to),
        kind,
        medianOhm,
      })),
    },
  }
}

/** The same site with something found otherwise than drawn. */
export function foundOtherwise(site: Site, found: readonly AsBuilt['found'][]): Site {
  const asBuilt = found.map((one, k) => ({ id: k + 1, found: one, on: null, note: '' }))
  const nextIds = { ...site.drawing.nextIds, asBuilt: found.length + 1 }
  return { ...site, drawing: { ...site.drawing, nextIds, asBuilt } }
}

export interface Read {
  /** Parts by address. */
  readonly from: string
  readonly to: string
  /** Null: over range. */
  readonly ohm: number | null
  /** Nulled afresh before this reading. */
  readonly nulled?: boolean
  readonly minute: number
  /** Number of the reading that this one repeats. */
  readonly repeats?: number
}

/** A visit with these readings, on bare metal; reading k has the id `readingId(k)`. */
export function withVisit(site: Site, kit: Kit, lead: Lead | null, readings: readonly Read[]): Site {
  const record: Site['record'][number][] = []
  const identity = (minute: number) => ({ device: uuid(3), counter: record.length, at: at(minute) })
  const visit: EntryOf<'visit'> = {
    ...identity(0),
    id: uuid(4),
    entry: 'visit',
    party: [],
    purpose: '',
    kits: [kit],
    leads: lead ? [lead] : [],
    weather: '',
    ambientC: null,
    isolation: '',
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  }
  record.push(visit)
  readings.forEach(({ from, to, ohm, nulled, minute, repeats }, k) => {
    if (nulled && lead) {
      record.push({
        ...identity(minute),
        id: uuid(10_000 + k),
        entry: 'nulling',
        visit: visit.id,
        kit: kit.id,
        lead: lead.id,
        leadC: null,
        note: '',
      })
    }
    record.push({
      ...identity(minute),
      id: readingId(k),
      entry: 'reading',
      visit: visit.id,
      method: kit.method,
      kit: kit.id,
      lead: lead?.id ?? null,
      from: { part: from, spot: 'stud', surface: 'bare' },
      to: { part: to, spot: 'stud', surface: 'bare' },
      around: null,
      result: ohm === null ? { form: 'over', atLeastOhm: kit.mostOhm } : { form: 'ohm', ohm },
      reverseOhm: null,
      unsteady: null,
      testCurrentA: null,
      metalC: null,
      trackerDeg: null,
      repeats: repeats === undefined ? null : readingId(repeats),
      plan: null,
      planPair: null,
      trying: null,
      spikesM: null,
      photos: [],
      note: '',
    })
  })
  return { ...site, record }
}

export const barName = (bar: number): string => `B${bar + 1}`

export const readingId = (k: number): string => uuid(20_000 + k)

export function runToEnd<T>(job: Generator<unknown, T>): T {
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}

/** The network as it was found, ready for questions. */
export function preparedSite(site: Site): PreparedNetwork {
  const index = indexSite(site.drawing)
  assert(index.ok, `the site can be indexed: ${JSON.stringify(index)}`)
  const network = runToEnd(
    compileNetwork(site.drawing, index.value, { countIncidental: true, asBuilt: true }),
  )
  assert(network.ok, `the site compiles: ${JSON.stringify(network)}`)
  return runToEnd(prepareNetwork(network.value))
}
