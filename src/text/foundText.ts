import { parseJointAddress } from '../model/address.ts'
import type { AsBuilt, DifferingJoint } from '../model/schema/equipment.ts'
import { formatDay } from './days.ts'
import { nameJoint, nameKind } from './jointNames.ts'
import { formatOhm } from './ohms.ts'
import { namePair, namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { printable } from './where.ts'

export const foundTexts = {
  open: 'Found different …',
  openAgain: 'Change what was found …',
  title: 'Found different from the drawing',
  about:
    'What was found on site is kept beside the design, which stays as drawn. Computations count what was found. ' +
    'A bad joint that is there as drawn is no finding: take readings, or note a look at it.',
  what: 'What was found',
  missing: 'Missing: nothing joins the two there',
  other: 'Otherwise: another kind of joint, or other ohms',
  kindAsDrawn: 'Kind as drawn',
  ohmHint: 'Ohms of the sound joint, where they are known. Empty: those of its kind',
  on: 'Found on',
  noteHint: 'Who saw it, what it looks like',
  keep: 'Keep this finding',
  change: 'Keep the change',
  remove: 'Delete this finding',
  openPath: 'Found joined to it …',
  pathTitle: 'Found joined by metal',
  pathAbout:
    'A metal path that somebody saw on site and the drawing does not have: a tray, a fence, a strap. It is kept beside ' +
    'the design, and computations count it.',
  notFound: 'Keep nothing',
  list: 'Findings of this site',
  none: 'Nothing was found different so far.',
  isFinding: 'This joint is itself a finding: somebody found it, and the design has none there.',
} as const

export const designTexts = {
  title: 'Different by design',
  about:
    'For a single joint that the design makes otherwise than its pattern. What was found on site is no design: keep it as a finding.',
  asPattern: 'As its pattern says',
  absent: 'The design has no joint here',
  other: 'Another kind or other ohms',
  ownAddress: 'This joint is drawn by itself: its kind and ohms are changed in the list of metal paths.',
  whichKind: 'Kind as the pattern has it',
  ohmHint: 'Ohms of the sound joint. Empty: those of its kind',
  needs: 'Choose another kind, or give its ohms.',
} as const

/** What a joint was found to be, or is by design: `missing`, `jumper with its lugs, 3 mΩ`. */
export function describeOther(book: NameBook, kind: string | null, medianOhm: number | null): string {
  const named = kind === null ? [] : [nameKind(book, kind)]
  return [...named, ...(medianOhm === null ? [] : [formatOhm(medianOhm)])].join(', ')
}

/** A finding in one line, without where it is: `found missing, 4 May`. */
export function describeFound(book: NameBook, { found, on }: AsBuilt, now: string): string {
  const day = on === null ? '' : `, ${formatDay(`${on}T12:00:00Z`, now)}`
  switch (found.form) {
    case 'jointAbsent':
      return `found missing${day}`
    case 'jointOther':
      return `found otherwise: ${describeOther(book, found.kind, found.medianOhm)}${day}`
    case 'jointAdded':
      return `found joined: ${describeOther(book, found.kind, found.medianOhm)}${day}`
    case 'other':
      return `found otherwise${day}`
  }
}

/** A day in words, under its field: what a browser writes as 05/04 is read as May by one and as April by another. */
export function describeFoundDay(on: string): string {
  return on === '' ? 'The day is not known' : formatDay(`${on}T12:00:00Z`, '')
}

/** What the finding is about. */
export function nameFoundPlace(book: NameBook, { found }: AsBuilt): string {
  switch (found.form) {
    case 'jointAbsent':
    case 'jointOther':
      return nameJoint(book, found.joint)
    case 'jointAdded':
      return namePair(book, found.from, found.to, 'and')
    case 'other':
      return parseJointAddress(found.about) ? nameJoint(book, found.about) : namePart(book, found.about)
  }
}

export function describeDesign(book: NameBook, { change, kind, medianOhm }: DifferingJoint): string {
  return change === 'absent' ? 'the design has none here' : describeOther(book, kind, medianOhm)
}

/** Names of steps. */
export const foundSteps = {
  keep: (place: string) => `finding at ${place}`,
  remove: (place: string) => `delete the finding at ${place}`,
  design: (place: string) => `design of ${place}`,
} as const

/** A note as one line. */
export const noteLine = (note: string) => printable(note, 300).trim()
