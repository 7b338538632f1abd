import { defaultKits, firstLeads } from '../../model/kits.ts'
import type { Kit, Lead } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { amendedVisit } from '../../state/entries.ts'

interface Kits {
  readonly kits: readonly Kit[]
  readonly leads: readonly Lead[]
}

/**
 * Instruments and leads that a drill can be taken with: those of the site's latest visit, those of this device, and the
 * defaults, each once by its id. Only instruments that read between two parts with current enough for a bond.
 */
export function drillKits(site: Site, usual: Kits): Kits {
  const visit = amendedVisit(site)
  const kits = once([...(visit?.kits ?? []), ...usual.kits, ...defaultKits])
  return {
    kits: kits.filter(
      ({ method, testCurrentA }) =>
        (method === 'twoWire' || method === 'fourWire') && testCurrentA >= assumptions.leastTestCurrentA,
    ),
    leads: once([...(visit?.leads ?? []), ...usual.leads, ...firstLeads]),
  }
}

function once<T extends { readonly id: string }>(all: readonly T[]): readonly T[] {
  return all.filter(({ id }, k) => all.findIndex((each) => each.id === id) === k)
}
