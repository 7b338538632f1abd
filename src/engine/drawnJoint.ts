import { jointAddressAt, jointIndexOf, jumperEnds } from '../layout/jointIndex.ts'
import { findId } from '../layout/idLookup.ts'
import { partPointById, wireEnd } from '../layout/conductorIndex.ts'
import { localJointOf, localIndexOf } from '../layout/localParts.ts'
import { partAddressAt, patternOfRun } from '../layout/partIndex.ts'
import { ordinalOf, tableById } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { present } from '../base/assert.ts'
import { parseJointAddress, writeLocalPart, writePartAddress, type JointAddress } from '../model/address.ts'
import type { JointAnswer, OhmShare } from '../model/answers.ts'
import { byId } from '../model/queries/byId.ts'
import type { MaterialId } from '../model/materials.ts'

type Given = { readonly ohm: number; readonly by: Extract<OhmShare, { form: 'given' }>['by'] }

/** What of a joint is no contact: the metal of a wire or member, soil, or what an electrode was measured to have. */
export type OwnOhm =
  | { readonly form: 'metal'; readonly material: MaterialId; readonly areaMm2: number }
  | { readonly form: 'soil'; readonly of: Extract<OhmShare, { form: 'soil' }>['of'] }
  | { readonly form: 'given'; readonly by: 'electrode' }

/** One joint as the drawing has it, with what differs by design or was found as built laid over it. */
export interface DrawnJoint {
  readonly from: string
  readonly to: string
  /** Id of its joint kind. */
  readonly kind: string
  /** Contact ohms, or all of a wire's, that were entered for this joint alone. */
  readonly given: Given | null
  readonly own: OwnOhm | null
  readonly differs: JointAnswer['differs']
  /** Designed or found away, or found as built and not counted. */
  readonly isAbsent: boolean
}

type Pattern = Pick<DrawnJoint, 'from' | 'to' | 'kind' | 'given' | 'own'>

/** What is drawn under the number of a joint; as-built differences count with `asBuilt`. O(differences). */
export function drawnJoint(index: SiteIndex, joint: number, asBuilt: boolean): DrawnJoint {
  const address = jointAddressAt(index, joint)
  const { drawing } = index
  let { kind, given, ...ends } = patternJoint(index, address)
  let differs: DrawnJoint['differs'] = address.at === 'asBuilt' ? 'asBuilt' : 'no'
  let isAbsent = address.at === 'asBuilt' && !asBuilt
  const change = (
    by: 'differingJoint' | 'asBuilt',
    other: { kind: string | null; medianOhm: number | null },
  ) => {
    isAbsent = false
    differs = by === 'asBuilt' ? 'asBuilt' : 'byDesign'
    // ohms that were given for another kind say nothing of this one
    if (other.kind !== null) given = null
    kind = other.kind ?? kind
    if (other.medianOhm !== null) given = { ohm: other.medianOhm, by }
  }
  for (const differing of drawing.differingJoints) {
    if (!isJoint(index, differing.joint, joint)) continue
    change('differingJoint', differing)
    if (differing.change === 'absent') isAbsent = true
  }
  for (const { found } of asBuilt ? drawing.asBuilt : []) {
    if (found.form !== 'jointAbsent' && found.form !== 'jointOther') continue
    if (!isJoint(index, found.joint, joint)) continue
    change('asBuilt', found.form === 'jointOther' ? found : { kind: null, medianOhm: null })
    if (found.form === 'jointAbsent') isAbsent = true
  }
  return { ...ends, kind, given, differs, isAbsent }
}

function isJoint(index: SiteIndex, text: string, joint: number): boolean {
  const address = parseJointAddress(text)
  return address !== null && jointIndexOf(index, address) === joint
}

function patternJoint(index: SiteIndex, address: JointAddress): Pattern {
  const { drawing } = index
  const part = (node: number) => writePartAddress(partAddressAt(index, node))
  const plain = { given: null, own: null }
  switch (address.at) {
    case 'table':
      return tableJoint(index, address)
    case 'row': {
      const row = findId(index.rows.ids, address.row)
      const before = present(
        tableById(index.rows, row, address.tableBefore),
        'a jumper has a table before it',
      )
      const { from, to } = jumperEnds(index, row, ordinalOf(index.rows, before), address.jumper)
      return { from: part(from), to: part(to), kind: drawing.rows[row].links.kind, ...plain }
    }
    case 'lug':
    case 'wire':
      return conductorJoint(index, address)
    case 'extra': {
      const { from, to, kind, medianOhm } = present(byId(drawing.extraJoints).get(address.id), 'it is drawn')
      return {
        from,
        to,
        kind,
        given: medianOhm === null ? null : { ohm: medianOhm, by: 'extraJoint' },
        own: null,
      }
    }
    case 'asBuilt': {
      const { found } = present(byId(drawing.asBuilt).get(address.id), 'the joint was found')
      if (found.form !== 'jointAdded')
        throw new Error('Internal error: only joints that were added have a number')
      const { from, to, kind, medianOhm } = found
      return {
        from,
        to,
        kind,
        given: medianOhm === null ? null : { ohm: medianOhm, by: 'asBuilt' },
        own: null,
      }
    }
    case 'earthPath': {
      const ends = { from: writePartAddress(address.part), to: 'earth', kind: 'earthPath', given: null }
      if (address.part.at !== 'electrode') return { ...ends, own: { form: 'soil', of: 'post' } }
      const electrode = present(byId(drawing.electrodes).get(address.part.id), 'the electrode is drawn')
      const isMeasured = electrode.measuredOhm !== null
      return {
        ...ends,
        own: isMeasured ? { form: 'given', by: 'electrode' } : { form: 'soil', of: electrode.form },
      }
    }
  }
}

function tableJoint(index: SiteIndex, address: Extract<JointAddress, { at: 'table' }>): Pattern {
  const row = findId(index.rows.ids, address.row)
  const table = present(tableById(index.rows, row, address.table), 'the table of a joint is drawn')
  const pattern = patternOfRun(index, table.run)
  const one = localIndexOf(pattern, address.from)
  const joint = localJointOf(pattern, one, localIndexOf(pattern, address.to), address.parallel)
  const place = `R${address.row}/T${address.table}`
  const isMember = address.from.of === 'longMember' && pattern.bodyM[joint] > 0
  const member = isMember ? pattern.type.longMembers[address.from.member - 1] : null
  return {
    from: `${place}/${writeLocalPart(address.from)}`,
    to: `${place}/${writeLocalPart(address.to)}`,
    kind: pattern.kindNames[pattern.kind[joint]],
    given: null,
    own: member && { form: 'metal', material: member.material, areaMm2: member.areaMm2 },
  }
}

function conductorJoint(index: SiteIndex, address: Extract<JointAddress, { at: 'lug' | 'wire' }>): Pattern {
  const { conductors, drawing } = index
  const c = findId(conductors.ids, address.conductor)
  const p = partPointById(conductors, c, address.point)
  const { material, areaMm2, points } = drawing.conductors[c]
  const from = `C${address.conductor}.${address.point}`
  if (address.at === 'lug') {
    const landing = present(points[conductors.place[p]].landing, 'a lug lands on a part')
    return { from, to: landing.part, kind: landing.kind, given: null, own: null }
  }
  const to = `C${address.conductor}.${conductors.pointId[wireEnd(conductors, p)]}`
  return { from, to, kind: 'wire', given: null, own: { form: 'metal', material, areaMm2 } }
}
