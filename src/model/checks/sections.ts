import type { Drawing, NextIds } from '../schema/drawing.ts'
import {
  checkAsBuilt,
  checkConductor,
  checkDifferingJoint,
  checkExtraJoint,
  writtenJoint,
} from './checkEquipment.ts'
import { checkCriterion, checkDevice, checkLesson, checkPlan, checkSource } from './checkPlanning.ts'
import { checkRow } from './checkRow.ts'
import { checkTableType } from './checkTableType.ts'
import type { Findings, Path } from './findings.ts'
import { checkIdList } from './findings.ts'

/** The lists of a drawing. */
export type SectionName = {
  [K in keyof Drawing]: Drawing[K] extends readonly unknown[] ? K : never
}[keyof Drawing]
export type ItemOf<K extends SectionName> = Drawing[K][number]

interface Section<T> {
  /** One item in the words of a sentence. */
  readonly what: string
  /** What tells one item from another, and the key it stands under. */
  readonly idKey: string
  readonly idOf: (item: T) => string | number
  /** The counter that ids of this list come from. */
  readonly counter: keyof NextIds | null
  readonly check: (findings: Findings, item: T, path: Path) => void
}

const nothing = () => undefined
const idOf = (item: { readonly id: string | number }) => item.id

function counted<T extends { readonly id: number }>(
  what: string,
  counter: keyof NextIds,
  check: Section<T>['check'] = nothing,
): Section<T> {
  return { what, idKey: 'id', idOf, counter, check }
}

function named<T extends { readonly id: string }>(
  what: string,
  check: Section<T>['check'] = nothing,
): Section<T> {
  return { what, idKey: 'id', idOf, counter: null, check }
}

/** What has to hold for every item of each list of a drawing; used for whole sites and for single edits. */
export const sections: { readonly [K in SectionName]: Section<ItemOf<K>> } = {
  jointKinds: named('joint kind'),
  tableTypes: named('table type', checkTableType),
  rows: counted('row', 'row', checkRow),
  enclosures: counted('enclosure', 'enclosure'),
  earthBars: counted('earth bar', 'earthBar'),
  electrodes: counted('electrode', 'electrode'),
  conductors: counted('conductor', 'conductor', checkConductor),
  extraJoints: counted('extra joint', 'extraJoint', checkExtraJoint),
  differingJoints: {
    what: 'differing joint',
    idKey: 'joint',
    idOf: ({ joint }) => writtenJoint(joint),
    counter: null,
    check: checkDifferingJoint,
  },
  asBuilt: counted('as-built difference', 'asBuilt', checkAsBuilt),
  access: { what: 'access', idKey: 'part', idOf: ({ part }) => part, counter: null, check: nothing },
  aisles: counted('aisle', 'aisle'),
  obstacles: counted('obstacle', 'obstacle'),
  criteria: named('criterion', checkCriterion),
  plans: named('plan', checkPlan),
  sources: named('source', checkSource),
  devices: named('device', checkDevice),
  lessons: named('lesson', checkLesson),
}

export const sectionNames = Object.keys(sections) as readonly SectionName[]

/** Ids of one list: none twice, none that its counter could give out again. */
export function checkSectionIds<K extends SectionName>(findings: Findings, name: K): void {
  const section = sections[name] as Section<ItemOf<K>>
  const items = findings.drawing[name] as readonly ItemOf<K>[]
  const next = section.counter && findings.drawing.nextIds[section.counter]
  checkIdList(findings, items.map(section.idOf), section, ['drawing', name], next)
}

/** The items of one list for which `isChecked` holds. */
export function checkSectionItems<K extends SectionName>(
  findings: Findings,
  name: K,
  isChecked: (item: ItemOf<K>) => boolean = () => true,
): void {
  const section = sections[name] as Section<ItemOf<K>>
  const items = findings.drawing[name] as readonly ItemOf<K>[]
  items.forEach((item, k) => {
    if (isChecked(item)) section.check(findings, item, ['drawing', name, k])
  })
}
