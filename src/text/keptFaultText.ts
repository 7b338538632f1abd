import { printable } from './where.ts'

/** What of a fault can be no longer in the drawing. */
export type DroppedWhat =
  'at' | 'source' | 'earthed' | 'second' | 'hand' | 'other' | 'altered' | 'watched' | 'place'

/** Something of a kept fault that is no longer in the drawing. */
export interface DroppedOfFault {
  readonly what: DroppedWhat
  /** Its address or id, as it was kept. */
  readonly address: string
}

const droppedNames: Readonly<Record<DroppedWhat, string>> = {
  at: 'where the fault was',
  source: 'the source',
  earthed: 'what the circuit was referenced to',
  second: 'the second fault',
  hand: 'one who touched',
  other: 'the other hand',
  altered: 'a changed joint',
  watched: 'a watched pair',
  place: 'what the place on the ground was beside',
}

/** What dropped out of a fault because it was no longer in the drawing; a part may be back since. */
export function describeDropped(dropped: readonly DroppedOfFault[]): string {
  const named = dropped.map(({ what, address }) => `${droppedNames[what]} (${printable(address)})`)
  return `Of the fault that is looked at, this was no longer in the drawing and was left out: ${named.join('; ')}.`
}
