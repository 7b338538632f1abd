import type { SiteIndex } from '../layout/siteIndex.ts'
import type { GroundPlace } from '../model/faultAnswers.ts'
import { keptFaultSchema } from '../model/keptFault.ts'
import type { DroppedOfFault } from '../text/keptFaultText.ts'
import { firstSetup, type FaultSetup } from './faultSetup.ts'
import { jointOf, partOf } from './mapMarks.ts'

/** What of a fault is kept on the device: the question as the form has it, the watched pairs, and what the map shows of it. */
export interface KeptFault {
  readonly setup: FaultSetup
  readonly watched: readonly { readonly from: string; readonly to: string }[]
  readonly showsChange: boolean
  readonly isPaused: boolean
  /** Whether the map shows the volts of the ground, and the place on it that is asked about. */
  readonly showsGround: boolean
  readonly place: GroundPlace | null
}

export const nothingKept: KeptFault = {
  setup: firstSetup,
  watched: [],
  showsChange: true,
  isPaused: false,
  showsGround: false,
  place: null,
}

/** What was kept, as far as it has the shape of now; null for anything else: losing it loses no work. */
export function soundFault(found: unknown): KeptFault | null {
  return keptFaultSchema.safeParse(found).data ?? null
}

/** Whether an address is of a part that is drawn, or of remote earth. */
export function isDrawn(index: SiteIndex, address: string): boolean {
  return address === 'earth' || partOf(index, address) !== null
}

/** A kept fault on the drawing of now: what is no longer drawn drops out, and is told. O(what is kept · log). */
export function fitFault(
  kept: KeptFault,
  index: SiteIndex,
): { readonly kept: KeptFault; readonly dropped: readonly DroppedOfFault[] } {
  const dropped: DroppedOfFault[] = []
  const isPart = (address: string) => isDrawn(index, address)
  const held = (what: DroppedOfFault['what'], address: string, isThere: boolean): boolean => {
    if (!isThere) dropped.push({ what, address })
    return isThere
  }
  const isDrawnPlace = (place: GroundPlace) =>
    'atM' in place || held('place', place.besidePart, isPart(place.besidePart))
  const { setup } = kept
  const { at, source, earthed, second, person } = setup
  const isSource = index.drawing.sources.some(({ id }) => id === source)
  const hasHand = person !== null && held('hand', person.hand, isPart(person.hand))
  const other = person?.other ?? null
  const fitted: FaultSetup = {
    ...setup,
    at: at !== null && held('at', at, isPart(at)) ? at : null,
    source: source !== null && held('source', source, isSource) ? source : null,
    earthed:
      typeof earthed === 'string' || held('earthed', earthed.part, isPart(earthed.part)) ? earthed : 'bar',
    second: second !== null && held('second', second.part, isPart(second.part)) ? second : null,
    person:
      person !== null && hasHand
        ? { ...person, other: other !== null && held('other', other, isPart(other)) ? other : null }
        : null,
    altered: setup.altered.filter(({ joint }) => held('altered', joint, jointOf(index, joint) !== null)),
  }
  const watched = kept.watched.filter(({ from, to }) =>
    held('watched', `${from} – ${to}`, isPart(from) && isPart(to)),
  )
  const place = kept.place !== null && isDrawnPlace(kept.place) ? kept.place : null
  return { kept: { ...kept, setup: fitted, watched, place }, dropped }
}
