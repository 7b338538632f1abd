import { unreachable } from '../base/assert.ts'
import { parsePartAddress } from '../model/address.ts'
import type { JointAnswer, OhmShare, PartAnswer, ReadingAnswer } from '../model/answers.ts'
import type { MaterialId } from '../model/materials.ts'
import { typeOfTable } from '../model/presence.ts'
import { nameKind } from './jointNames.ts'
import { formatGiveOrTake, formatOhm, formatOhmSpread, formatRoughOhm, formatSignedOhm } from './ohms.ts'
import { namePart, tubesOf } from './partNames.ts'
import type { NameBook } from './places.ts'
import {
  formatCounted,
  formatLength,
  formatRate,
  formatShare,
  formatTemperature,
  type Units,
} from './units.ts'
import { printable } from './where.ts'

/** One line of a table of facts. */
export interface Fact {
  readonly name: string
  readonly value: string
}

export const materialNames: Readonly<Record<MaterialId, string>> = {
  copper: 'copper',
  'tinned-copper': 'tinned copper',
  'aluminium-conductor': 'aluminium',
  'aluminium-extrusion': 'aluminium extrusion',
  'galvanised-steel': 'galvanised steel',
  'copper-clad-steel': 'copper-clad steel',
  'stainless-304': 'stainless steel',
}

/** The sort of a part, for the head of its card. */
export function describePartKind({ part, kind }: Pick<PartAnswer, 'part' | 'kind'>, book: NameBook): string {
  const { words } = book
  if (isTube(part, book)) return words.tube
  const names: Readonly<Record<PartAnswer['kind'], string>> = {
    frame: 'module frame',
    longMember: words.longMember,
    crossMember: words.crossMember,
    post: 'post',
    enclosure: 'enclosure',
    earthBar: words.earthBar,
    electrode: words.electrode,
    conductorEnd: 'landing of a conductor',
    remoteEarth: words.remoteEarth,
  }
  return names[kind]
}

function isTube(address: string, { drawing }: NameBook): boolean {
  const parsed = parsePartAddress(address)
  if (parsed?.at !== 'table' || parsed.part.of !== 'longMember') return false
  const type = typeOfTable(drawing, parsed.row, parsed.table)
  return type !== null && tubesOf(type).includes(parsed.part.member)
}

/** Which metal a part belongs to, and what one would read from it to the nearest earth bar. */
export function partFacts(part: PartAnswer, book: NameBook): Fact[] {
  const { metalSection, toEarthBar, jointCount, kind } = part
  const bar = book.words.earthBar
  const facts: Fact[] = [{ name: 'Joints at it', value: String(jointCount) }]
  if (metalSection)
    facts.push({
      name: 'Metal section',
      value:
        `${formatCounted(metalSection.parts, 'part')} joined by metal, ` +
        (metalSection.earthBars === 0 ? `no ${bar} among them` : formatCounted(metalSection.earthBars, bar)),
    })
  if (toEarthBar && kind !== 'earthBar')
    facts.push({
      name: `Expected to the ${bar}`,
      value:
        `${formatOhmSpread(toEarthBar.expectedOhm, toEarthBar.spreadOhm)} to ` +
        `${namePart(book, toEarthBar.earthBar)}, clips and lead not counted`,
    })
  return facts
}

/** Said of a part that no metal joins to an earth bar; null where metal does. */
export function describeNoEarthBar(part: PartAnswer, book: NameBook): string | null {
  if (part.kind === 'remoteEarth' || part.toEarthBar) return null
  return (
    `As drawn, no metal joins this part to ${withArticle(book.words.earthBar)}: ` +
    `it is not bonded to one, whatever a meter reads.`
  )
}

function withArticle(noun: string): string {
  return `${/^[aeiou]/i.test(noun) ? 'an' : 'a'} ${noun}`
}

/** Whether a joint is part of the design, by its kind. */
export function describeJointKind({ kind, kindName, purpose }: JointAnswer, book: NameBook): string {
  const name = printable(kindName).trim() || nameKind(book, kind)
  return purpose === 'incidental' ? `${name}, incidental: nobody relies on it` : name
}

export function jointFacts(joint: JointAnswer, units: Units): Fact[] {
  const { counted } = joint
  if (!counted) return []
  return [
    { name: 'Median when sound', value: formatOhm(counted.medianOhm) },
    {
      name: 'Spread',
      value: `two in three lie within a factor of ${formatFactor(counted.lnSpread)} of its contact's median`,
    },
    { name: 'Bad when new', value: formatRate(counted.defectRate) },
    {
      name: 'Read across its own ends',
      value: `${formatOhm(counted.soundOhm)} sound, ${formatOhm(counted.openOhm)} open`,
    },
    { name: 'Share of such a current in it', value: formatShare(counted.leverage) },
    {
      name: 'A loop clamp round it',
      value: counted.loopClampOhm === Infinity ? 'finds no loop' : formatOhm(counted.loopClampOhm),
    },
    ...counted.madeOf.map((share) => ({ name: shareName(share), value: shareValue(share, units) })),
  ]
}

function formatFactor(lnSpread: number): string {
  return Math.exp(lnSpread).toFixed(lnSpread < 0.1 ? 2 : 1)
}

function shareName(share: OhmShare): string {
  switch (share.form) {
    case 'catalogue':
      return 'Contact'
    case 'metal':
      return 'Metal'
    case 'soil':
      return 'Soil'
    case 'given':
      return 'Entered'
    default:
      return unreachable(share)
  }
}

const givenBy = {
  extraJoint: 'for this extra joint',
  differingJoint: 'for this joint by the design',
  asBuilt: 'for this joint as it was found',
  electrode: 'as the measured resistance of the electrode',
} as const

/** Ohms and what they were computed from. */
function shareValue(share: OhmShare, units: Units): string {
  const ohm = formatOhm(share.ohm)
  switch (share.form) {
    case 'catalogue':
      return `${ohm}, the catalogue's ${printable(share.kind)}`
    case 'metal':
      return (
        `${ohm}: ${formatLength(share.lengthM, units)} of ${materialNames[share.material]}, ` +
        `${Number(share.areaMm2.toPrecision(3))} mm², at ${formatTemperature(share.temperatureC, units)}`
      )
    case 'soil':
      return `${ohm}: one ${share.of} by itself in soil of ${Number(share.soilOhmM.toPrecision(3))} Ωm`
    case 'given':
      return `${ohm}, entered ${givenBy[share.by]}`
    default:
      return unreachable(share)
  }
}

/** What hangs on a joint, or why it does not count; null where there is nothing to say. */
export function describeJointPlace(joint: JointAnswer, book: NameBook): string | null {
  const { counted, leftOut } = joint
  if (leftOut === 'absent') return 'As designed or as found, there is no joint here, and none is counted.'
  if (leftOut === 'incidental') return 'Bare contact is not counted now, and so this joint is not.'
  if (!counted) return null
  if (counted.isEarthPath) return 'This is a path through soil: it carries current, but it is never a bond.'
  if (!counted.isMetalBridge)
    return 'Other metal leads around it: if it opens, nothing is cut off, and less of it shows in readings.'
  const cut = formatCounted(counted.cutsOffParts, 'part')
  const verb = counted.cutsOffParts === 1 ? 'has' : 'have'
  const from = counted.cutsOffFrom === null ? '' : `, ${namePart(book, counted.cutsOffFrom)} among them`
  return `No other metal leads around it: if it opens, ${cut} ${verb} no metal path to the rest${from}.`
}

export function describeDiffers(joint: JointAnswer): string | null {
  switch (joint.differs) {
    case 'no':
      return null
    case 'byDesign':
      return 'Designed otherwise than the pattern of its table.'
    case 'asBuilt':
      return 'Found otherwise than drawn; counted as found.'
  }
}

/** What an expected reading is made of. */
export function readingFacts(reading: ReadingAnswer): Fact[] {
  const { method, expectedOhm, spreadOhm, networkOhm, contactOhm, leadOffsetOhm } = reading
  if (!Number.isFinite(expectedOhm)) return [{ name: 'The meter should show', value: 'no path' }]
  return [
    { name: 'The meter should show', value: formatGiveOrTake(expectedOhm, spreadOhm) },
    {
      name: method === 'loopClamp' ? 'From the loop' : 'From the network',
      value: formatRoughOhm(networkOhm),
    },
    // a clamp has no leads, and of an electrode test, as with four wires, clips and leads drop out
    ...(method === 'twoWire'
      ? [
          { name: 'From the clips', value: formatRoughOhm(contactOhm) },
          { name: 'Left in the lead', value: formatSignedOhm(leadOffsetOhm) },
        ]
      : []),
  ]
}
