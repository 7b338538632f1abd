import type { Site } from '../schema/site.ts'
import { openWork, type OpenWork } from './defects.ts'
import { countedEntries } from './effectiveRecord.ts'
import type { PlanPoint } from './signatures.ts'

/** What is outstanding when someone is about to sign: shown, and hindering nobody. */
export type ToSettle =
  /** Leads were not shorted and read after the last reading with them: their closing check. */
  | { readonly what: 'leadCheck'; readonly kit: string; readonly lead: string }
  | { readonly what: 'openWork'; readonly work: OpenWork }
  /** A hold or witness point that nobody has released. */
  | { readonly what: 'point'; readonly kind: 'hold' | 'witness'; readonly point: PlanPoint }
  /** The instrument's calibration was due before the visit began; null: no date is on record. */
  | { readonly what: 'calibration'; readonly kit: string; readonly due: string | null }

/** Open defects come from `defectsOf`; the rest of what is outstanding in a visit is found here. */
export function toSettle({ record, drawing }: Site, visitId: string): readonly ToSettle[] {
  const visit = countedEntries(record, 'visit').find(({ id }) => id === visitId)
  const readings = countedEntries(record, 'reading').filter(({ visit: of }) => of === visitId)
  const checks = countedEntries(record, 'leadCheck').filter(({ visit: of }) => of === visitId)
  const found: ToSettle[] = []
  const usedWith = new Map(
    readings.flatMap(({ kit, lead, at }) =>
      lead === null ? [] : [[`${kit} ${lead}`, { kit, lead, atMs: Date.parse(at) }] as const],
    ),
  )
  for (const { kit, lead, atMs } of usedWith.values()) {
    const isClosed = checks.some((one) => one.kit === kit && one.lead === lead && Date.parse(one.at) >= atMs)
    if (!isClosed) found.push({ what: 'leadCheck', kit, lead })
  }
  const day = visit?.at.slice(0, 10) ?? ''
  for (const id of new Set(readings.map(({ kit }) => kit))) {
    const due = visit?.kits.find((kit) => kit.id === id)?.calibrationDue ?? null
    if (due === null || due < day) found.push({ what: 'calibration', kit: id, due })
  }
  for (const work of openWork(record)) found.push({ what: 'openWork', work })
  const released = new Set(
    countedEntries(record, 'signature').map(({ plan, planPair }) => `${plan} ${planPair}`),
  )
  for (const { id: plan, pairs } of drawing.plans) {
    for (const { id: planPair, point: kind } of pairs) {
      if (kind === 'none' || released.has(`${plan} ${planPair}`)) continue
      found.push({ what: 'point', kind, point: { plan, planPair } })
    }
  }
  return found
}
