import type { PartKind } from '../model/schema/planning.ts'

/** Names of the part kinds by their code in typed arrays. */
export const partKindNames = [
  'frame',
  'longMember',
  'crossMember',
  'post',
  'enclosure',
  'earthBar',
  'electrode',
  'conductorEnd',
  'remoteEarth',
] as const satisfies readonly (PartKind | 'remoteEarth')[]

export type PartKindName = (typeof partKindNames)[number]

export const frameCode = 0
export const longMemberCode = 1
export const crossMemberCode = 2
export const postCode = 3
export const enclosureCode = 4
export const earthBarCode = 5
export const electrodeCode = 6
export const conductorEndCode = 7
export const remoteEarthCode = 8
