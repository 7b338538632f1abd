import type { TableType } from '../model/schema/tableType.ts'

type Posts = NonNullable<TableType['posts']>
type Direction = NonNullable<TableType['frameBond']['links']>['direction']

/** Words of the form in which a table type is drawn. */
export const typeFormTexts = {
  uneven: 'They differ: see each by itself below.',
  onTube: 'The modules rest on the tube.',
  needsPlan: 'Lengths in the plane of the modules.',
  wrongField: 'One field holds something that cannot stay. Put it right, or press Escape in it.',
  leaveTitle: 'Leave without keeping the changes?',
  leaveText: 'What you changed here is in no table yet and would be gone.',
  leave: 'Leave it as it was',
  goOn: 'Go on editing',
  readOnly: 'This site can only be looked at here, because another tab holds it.',
  noTypes: 'No table type is drawn yet. Start from a pattern that comes close; every number can be changed.',
  wholeCatalogue: 'Its figures hold for this kind wherever the site uses it.',
} as const

export const orientationNames: Readonly<Record<TableType['modules']['orientation'], string>> = {
  portrait: 'portrait',
  landscape: 'landscape',
}

export const supportNames: Readonly<Record<Posts['support'], string>> = {
  fixed: 'fixed to the post',
  pivot: 'turns on a pivot',
}

export const linkNames: Readonly<Record<Direction | 'none', string>> = {
  none: 'none',
  across: 'along the table',
  high: 'up the table',
  both: 'along and up the table',
}

export const clampNames = {
  none: 'none that bonds',
  one: 'one per frame',
  two: 'two per frame',
} as const

/** What a spread of ln ohms comes to, in a factor that a person can judge. */
export function describeSpread(lnSpread: number): string {
  return `Two of three sound joints lie within ${Number(Math.exp(lnSpread).toPrecision(2))} times the median, up or down.`
}
