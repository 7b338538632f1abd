import { present } from '../base/assert.ts'
import type { TablePattern } from '../layout/pattern.ts'
import type { JointKind } from '../model/schema/jointKind.ts'
import { uprightOhm } from './buriedOhm.ts'
import { memberOhmPerM } from './conductorOhm.ts'
import type { EdgeList } from './edgeList.ts'
import { earthPathKind, jointOhm } from './jointOhm.ts'

/** Electrical values of the joints of one table, the same for every table of the type. */
export interface TableTemplate {
  readonly pattern: TablePattern
  /** Metal body or soil in each joint, whatever its kind. */
  readonly ownOhm: Float64Array
  readonly medianOhm: Float64Array
  readonly fixedOhm: Float64Array
  readonly lnSpread: Float64Array
  readonly defectRate: Float64Array
  readonly kind: Uint16Array
  readonly isEarthPath: Uint8Array
  /** Incidental contact that is not to be counted. */
  readonly isLeftOut: Uint8Array
}

export interface Conditions {
  readonly kinds: readonly JointKind[]
  readonly kindNumber: ReadonlyMap<string, number>
  readonly temperatureC: number
  readonly soilOhmM: number
  readonly countIncidental: boolean
}

/** Incidental contact is left out on request; soil is never metal, and always stays. */
export function isLeftOut(kind: JointKind, isEarthPath: boolean, countIncidental: boolean): boolean {
  return kind.purpose === 'incidental' && !isEarthPath && !countIncidental
}

/**
 * Contacts from the catalogue; member bodies R = ρ(T)·ℓ/A between two stations; posts in soil each by itself
 * (`uprightOhm`). O(joints of one table).
 */
export function tableTemplate(pattern: TablePattern, conditions: Conditions): TableTemplate {
  const { type, jointCount, from, to, bodyM, longStart, across } = pattern
  const { kinds, kindNumber, temperatureC, soilOhmM, countIncidental } = conditions
  const numbers = pattern.kindNames.map((name) => present(kindNumber.get(name), `no joint kind is ${name}`))
  const ohmPerM = type.longMembers.map(({ material, areaMm2 }) =>
    memberOhmPerM({ materialId: material, areaMm2 }, temperatureC),
  )
  const soil = type.posts?.soil
  const postOhm = soil ? uprightOhm({ lengthM: soil.buriedM, radiusM: soil.diameterM / 2 }, soilOhmM) : 0
  const template = {
    pattern,
    ownOhm: new Float64Array(jointCount),
    medianOhm: new Float64Array(jointCount),
    fixedOhm: new Float64Array(jointCount),
    lnSpread: new Float64Array(jointCount),
    defectRate: new Float64Array(jointCount),
    kind: new Uint16Array(jointCount),
    isEarthPath: new Uint8Array(jointCount),
    isLeftOut: new Uint8Array(jointCount),
  }
  for (let j = 0; j < jointCount; j++) {
    const number = numbers[pattern.kind[j]]
    const kind = kinds[number]
    const isEarthPath = to[j] < 0 || kind.id === earthPathKind
    const member = Math.floor((from[j] - longStart) / (across + 1))
    const ownOhm = to[j] < 0 ? postOhm : bodyM[j] > 0 ? bodyM[j] * ohmPerM[member] : 0
    const ohm = present(jointOhm(kind, ownOhm, null), `joint kind ${kind.id} has no ohms`)
    template.ownOhm[j] = ownOhm
    template.medianOhm[j] = ohm.medianOhm
    template.fixedOhm[j] = ohm.fixedOhm
    template.lnSpread[j] = kind.lnSpread
    template.defectRate[j] = kind.defectRate
    template.kind[j] = number
    template.isEarthPath[j] = isEarthPath ? 1 : 0
    template.isLeftOut[j] = isLeftOut(kind, isEarthPath, countIncidental) ? 1 : 0
  }
  return template
}

/**
 * Appends the joints of one table, whose first part and joint have these numbers; those with isChanged = 1
 * go to `addChanged` instead. Returns how many were left out as incidental.
 */
export function addTable(
  list: EdgeList,
  template: TableTemplate,
  firstPart: number,
  firstJoint: number,
  remoteEarth: number,
  isChanged: Uint8Array,
  addChanged: (joint: number, from: number, to: number, kind: number, ownOhm: number) => void,
): number {
  const { jointCount, from, to } = template.pattern
  let leftOut = 0
  for (let j = 0; j < jointCount; j++) {
    const joint = firstJoint + j
    const start = firstPart + from[j]
    const end = to[j] < 0 ? remoteEarth : firstPart + to[j]
    if (isChanged[joint] === 1) {
      addChanged(joint, start, end, template.kind[j], template.ownOhm[j])
      continue
    }
    if (template.isLeftOut[j] === 1) {
      leftOut++
      continue
    }
    const e = list.count++
    list.jointOfEdge[e] = joint
    list.from[e] = start
    list.to[e] = end
    list.medianOhm[e] = template.medianOhm[j]
    list.fixedOhm[e] = template.fixedOhm[j]
    list.lnSpread[e] = template.lnSpread[j]
    list.defectRate[e] = template.defectRate[j]
    list.kind[e] = template.kind[j]
    list.isEarthPath[e] = template.isEarthPath[j]
  }
  return leftOut
}
