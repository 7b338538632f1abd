import type { Units } from './units.ts'

/** Words of the trade that differ between metric and US sites. */
export interface Words {
  readonly earth: string
  readonly earthed: string
  readonly remoteEarth: string
  readonly earthBar: string
  readonly electrode: string
  readonly earthPath: string
  readonly bondingConductor: string
  readonly earthingConductor: string
  /** The trade's name of a long member and of a cross member. */
  readonly longMember: string
  /** The long member of a tracker that turns the others. */
  readonly tube: string
  readonly crossMember: string
}

const metric: Words = {
  earth: 'earth',
  earthed: 'earthed',
  remoteEarth: 'remote earth',
  earthBar: 'earth bar',
  electrode: 'earth electrode',
  earthPath: 'earth path',
  bondingConductor: 'protective bonding conductor',
  earthingConductor: 'earthing conductor',
  longMember: 'rail',
  tube: 'tube',
  crossMember: 'cross member',
}

const us: Words = {
  earth: 'ground',
  earthed: 'grounded',
  remoteEarth: 'remote ground',
  earthBar: 'ground bar',
  electrode: 'ground electrode',
  earthPath: 'ground path',
  bondingConductor: 'equipment grounding conductor (EGC)',
  earthingConductor: 'grounding electrode conductor (GEC)',
  longMember: 'rail',
  tube: 'tube',
  crossMember: 'cross member',
}

export function wordsFor(units: Units): Words {
  return units === 'us' ? us : metric
}
