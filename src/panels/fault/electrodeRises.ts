import type { SiteIndex } from '../../layout/siteIndex.ts'
import { writePartAddress } from '../../model/address.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import { faultAt } from '../../state/faultAt.ts'
import type { FaultDesk } from '../../state/faultDesk.svelte.ts'

/** Volts of an electrode to remote earth. */
export interface Rise {
  readonly part: string
  readonly volt: number
}

/** Electrodes with their volts in the fault that is shown, the one with most first; none while nothing is known. */
export function electrodeRises(
  index: SiteIndex | null,
  desk: FaultDesk,
  electrodes: Drawing['electrodes'],
): readonly Rise[] {
  return electrodes
    .flatMap(({ id }) => {
      const part = writePartAddress({ at: 'electrode', id })
      const there = index && faultAt(index, desk, { kind: 'part', address: part })
      return there?.kind === 'part' ? [{ part, volt: there.volt }] : []
    })
    .sort((a, b) => Math.abs(b.volt) - Math.abs(a.volt))
}
