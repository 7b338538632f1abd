import type { JointKind } from '../model/schema/jointKind.ts'
import type { StarterId } from '../model/starterTypes.ts'
import type { TableType } from '../model/schema/tableType.ts'
import { formatOhm } from './ohms.ts'
import { tubesOf } from './partNames.ts'
import { formatCounted, formatExpected, formatLength, formatRate, inWords, type Units } from './units.ts'
import { printable } from './where.ts'
import type { Words } from './words.ts'

type Mounting = TableType['mounting']

export const mountingNames: Readonly<Record<Mounting, string>> = {
  fixedTilt: 'fixed tilt',
  tracker: 'tracker',
  flushRoof: 'flush on a roof',
}

/** A type by its pattern, as the trade says it: `2 high × 10, portrait`; `…, on a tube`, `…, flush`, `…, linked`. */
export function suggestTypeName({
  modules,
  mounting,
  frameBond,
}: Pick<TableType, 'modules' | 'mounting' | 'frameBond'>): string {
  const { high, across, orientation } = modules
  const isLinked = frameBond.clamps === null && frameBond.links !== null
  const after: Readonly<Record<Mounting, string>> = {
    fixedTilt: '',
    tracker: ', on a tube',
    flushRoof: ', flush',
  }
  return `${high} high × ${across}, ${orientation}${after[mounting]}${isLinked ? ', linked' : ''}`
}

export const starterTexts: Readonly<Record<StarterId, { readonly name: string; readonly about: string }>> = {
  fixedTwoHigh: {
    name: 'Fixed tilt, 2 high portrait',
    about: 'Four rails, cross members on two lines of posts, frames clamped to each rail.',
  },
  flushRoof: {
    name: 'Flush on a roof, 1 high portrait',
    about: 'Two rails, frames clamped on both sides; no posts.',
  },
  trackerOneHigh: {
    name: 'Tracker, 1 high portrait',
    about: 'Frames clamped to one torque tube; each pivot bridged by a jumper.',
  },
  landscapeThreeHigh: {
    name: 'Fixed tilt, 3 high landscape',
    about: 'Two rails under each module row, cross members on two lines of posts.',
  },
  linkedFrames: {
    name: 'Fixed tilt, frames linked',
    about:
      'Frames are bonded to each other by links, not to the rails by clamps: frames and structure are two sections ' +
      'until a conductor joins them.',
  },
}

/** A kind of joint where one is chosen: its name, then its median. */
export function nameKindChoice({ name, medianOhm }: JointKind): string {
  return medianOhm === null ? printable(name) : `${printable(name)}, ${formatOhm(medianOhm)}`
}

/** The figures of the kind that is chosen: its median, and how many are bad in a new array. */
export function describeKindChoice({ medianOhm, defectRate, purpose }: JointKind): string {
  const median = medianOhm === null ? 'computed' : formatOhm(medianOhm)
  const reliance = purpose === 'incidental' ? 'not relied on; ' : ''
  return `${reliance}median ${median}, ${formatRate(defectRate)} bad when new`
}

/** How one long member is called in the form: `Rail 2`, `Tube`. */
export function nameMemberOfType(type: TableType, member: number, words: Words): string {
  const tubes = tubesOf(type)
  if (!tubes.includes(member)) return `${words.longMember} ${member}`
  return tubes.length === 1 ? words.tube : `${words.tube} ${member}`
}

/** What one table is made of: `20 frames, 4 rails, 4 cross members, 8 posts`. */
export function describeTableParts(type: TableType, words: Words): string {
  const { high, across } = type.modules
  const tubes = tubesOf(type).length
  const rails = type.longMembers.length - tubes
  const crossMembers = type.crossMembers?.stations.length ?? 0
  const posts = type.posts ? type.posts.stations.length * type.posts.lines : 0
  return [
    formatCounted(high * across, 'frame'),
    ...(tubes > 0 ? [formatCounted(tubes, words.tube)] : []),
    ...(rails > 0 ? [formatCounted(rails, words.longMember)] : []),
    ...(crossMembers > 0 ? [formatCounted(crossMembers, words.crossMember)] : []),
    ...(posts > 0 ? [formatCounted(posts, 'post')] : []),
  ].join(', ')
}

/** Sorts of joints in a table, by the numbers of layout/jointPlaces.ts. */
export function sortName(sort: number, words: Words): { readonly one: string; readonly many: string } {
  const names = [
    { one: 'clamp', many: 'clamps' },
    { one: 'link', many: 'links' },
    { one: 'length of solid metal', many: 'lengths of solid metal' },
    { one: 'splice', many: 'splices' },
    { one: 'bracket', many: 'brackets' },
    { one: 'post bond', many: 'post bonds' },
    { one: words.earthPath, many: `${words.earthPath}s` },
  ]
  return names[sort]
}

/** What a table's joints come to: how many, and how many of them are bad in a new array by the catalogue's rates. */
export function describeTableJoints(joints: number, expectedBad: number): string {
  return (
    `${formatCounted(joints, 'joint')} in one table, solid metal not counted. By the catalogue's rates ` +
    `${formatExpected(expectedBad)} of them are bad in a new one.`
  )
}

/** Size in the plane of the modules: `11.5 m × 4.58 m`. */
export function describeTableSize(alongM: number, upM: number, units: Units): string {
  return `${formatLength(alongM, units)} × ${formatLength(upM, units)}`
}

/** A picture of a table in words, for whoever does not see it. */
export function describePicture(type: TableType, words: Words): string {
  return `Drawing of one table: ${describeTableParts(type, words)}`
}

/** Said under the picture of a table. */
export const pictureTexts = {
  point: 'Point at a joint to see its kind and its address within the table.',
  keys: 'Enter, then the arrow keys, go from joint to joint.',
  tapStation: 'Tap a station in the picture to set it or clear it.',
  tapSplice: 'Tap a module in the picture: the splice lies along it.',
} as const

/** What is marked where a picture is pointed at: `pierced frame clamp F1.3~L2.4`. */
export function describePointed(kindName: string, form: string): string {
  return `${printable(kindName)}, ${form}`
}

/** How many tables of the site are of a type. */
export function describeTypeUse(tables: number): string {
  return tables === 0 ? 'no table yet' : formatCounted(tables, 'table')
}

export function whyTypeStays(tables: number): string {
  return `${formatCounted(tables, 'table is', 'tables are')} of this type`
}

/** A copy's name until it is given its own. */
export function nameCopy(name: string): string {
  return `${printable(name, 190)}, copy`
}

/** Labels of the undo steps. */
export function typeStep(what: 'add' | 'change' | 'copy' | 'remove', name: string): string {
  const words = {
    add: 'New table type',
    change: 'Table type',
    copy: 'Copy of table type',
    remove: 'Removed type',
  }
  return `${words[what]} ${printable(name)}`
}

export function kindStep(what: 'add' | 'change', name: string): string {
  return `${what === 'add' ? 'New joint kind' : 'Joint kind'} ${printable(name)}`
}

/** `row 1`, `rows 1 and 2`, `nothing`: what a long member carries. */
export function describeCarried(carries: readonly number[]): string {
  if (carries.length === 0) return 'carries no module'
  return `carries module ${carries.length === 1 ? 'row' : 'rows'} ${inWords(carries.map(String))}`
}

export function tapLabel(label: string, isTapping: boolean): string {
  return isTapping ? `Stop setting ${label} in the picture` : `Set ${label} in the picture`
}

/** Said under a field for a whole number when what is typed is none, or out of bounds; else null. */
export function wholeNumberTrouble(text: string, least: number, most: number): string | null {
  if (!/^\d{1,9}$/.test(text)) return `Type a whole number from ${least} to ${most}.`
  const number = Number(text)
  if (number < least) return `It cannot be less than ${least}.`
  return number > most ? `It cannot be more than ${most}.` : null
}
