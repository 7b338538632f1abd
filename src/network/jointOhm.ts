import type { JointKind } from '../model/schema/jointKind.ts'

/** Kinds whose ohms are those of metal or soil; a median in the catalogue means nothing for them. */
const metalKinds: readonly string[] = ['wire', 'memberBody']
export const earthPathKind = 'earthPath'

/** What an edge is made of, in ohms at the median. */
export interface JointOhm {
  readonly medianOhm: number
  /** The share of `medianOhm` that is metal body or wire. */
  readonly fixedOhm: number
}

/**
 * Ohms of a joint of a kind that has `ownOhm` of metal body, wire or soil in it besides its contact:
 *
 *     contact kinds    median = (given, else the catalogue's) + own,   fixed = own
 *     wire, body       median = given, else own,                       fixed = median
 *     soil             median = given, else own,                       fixed = 0
 *
 * Null where nothing gives it any ohms.
 */
export function jointOhm(kind: JointKind, ownOhm: number, givenOhm: number | null): JointOhm | null {
  const isMetal = metalKinds.includes(kind.id)
  if (isMetal || kind.id === earthPathKind) {
    const medianOhm = givenOhm ?? ownOhm
    return medianOhm > 0 ? { medianOhm, fixedOhm: isMetal ? medianOhm : 0 } : null
  }
  const contactOhm = givenOhm ?? kind.medianOhm
  return contactOhm === null ? null : { medianOhm: contactOhm + ownOhm, fixedOhm: ownOhm }
}
