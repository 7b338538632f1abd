import { parseJointAddress, writeJointAddress } from '../address.ts'
import { conductorSizeIds } from '../conductorSizes.ts'
import { problem } from '../problem.ts'
import type { Conductor } from '../schema/equipment.ts'
import type { Findings, Path } from './findings.ts'
import {
  addWrong,
  checkEnds,
  checkIds,
  checkJoint,
  checkKind,
  checkPart,
  checkPartOrJoint,
  hasComputedOhm,
  inconsistent,
} from './findings.ts'

function checkConductor(findings: Findings, conductor: Conductor, path: Path): void {
  const { size } = conductor
  if (size !== null && !(conductorSizeIds as readonly string[]).includes(size)) {
    const facts = { what: 'conductor size', name: size }
    addWrong(findings, problem('reference.unknownName', facts, { path: [...path, 'size'] }))
  }
  checkIds(findings, conductor.points, 'point', [...path, 'points'], conductor.nextPoint)
  conductor.points.forEach(({ id, landing }, k) => {
    if (!landing) return
    const at = [...path, 'points', k, 'landing']
    const { part } = landing
    checkPart(findings, part, [...at, 'part'], 'mustExist')
    checkKind(findings, landing.kind, [...at, 'kind'])
    if (part === 'earth') {
      inconsistent(findings, 'remote earth is no metal that a conductor can land on', [...at, 'part'])
    } else if (part === `C${conductor.id}.${id}`) {
      addWrong(
        findings,
        problem('reference.samePart', { text: part }, { path: [...at, 'part'], address: part }),
      )
    }
  })
}

/** Kind and ohms that take the place of a joint's own: at least one, and a median from one of them. */
function checkOther(
  findings: Findings,
  joint: string,
  kind: string | null,
  medianOhm: number | null,
  path: Path,
): void {
  if (kind === null && medianOhm === null) {
    inconsistent(findings, 'a joint that is otherwise needs a kind or ohms', path)
  }
  if (kind === null) return
  checkKind(findings, kind, [...path, 'kind'], medianOhm !== null || hasComputedOhm(parseJointAddress(joint)))
}

function checkDifferingJoints(findings: Findings): void {
  const seen = new Set<string>()
  findings.drawing.differingJoints.forEach((differing, k) => {
    const path = ['drawing', 'differingJoints', k]
    const { joint } = differing
    checkJoint(findings, joint, [...path, 'joint'], 'mayStray')
    const address = parseJointAddress(joint)
    const written = address ? writeJointAddress(address) : joint
    if (seen.has(written)) {
      const facts = { what: 'differing joint', id: joint }
      addWrong(
        findings,
        problem('reference.duplicateId', facts, { path: [...path, 'joint'], address: joint }),
      )
    }
    seen.add(written)
    if (address?.at === 'extra' || address?.at === 'asBuilt') {
      inconsistent(findings, 'a joint with an address of its own is changed where it stands', [
        ...path,
        'joint',
      ])
    }
    if (differing.change === 'other') checkOther(findings, joint, differing.kind, differing.medianOhm, path)
  })
}

function checkAsBuilt(findings: Findings): void {
  const { asBuilt, nextIds } = findings.drawing
  checkIds(findings, asBuilt, 'as-built difference', ['drawing', 'asBuilt'], nextIds.asBuilt)
  asBuilt.forEach(({ found }, k) => {
    const path = ['drawing', 'asBuilt', k, 'found']
    switch (found.form) {
      case 'jointAbsent':
        return checkJoint(findings, found.joint, [...path, 'joint'], 'mayStray')
      case 'jointOther':
        checkJoint(findings, found.joint, [...path, 'joint'], 'mayStray')
        return checkOther(findings, found.joint, found.kind, found.medianOhm, path)
      case 'jointAdded':
        checkEnds(findings, found.from, found.to, path, 'mayStray')
        return checkKind(findings, found.kind, [...path, 'kind'], found.medianOhm !== null)
      case 'other':
        return checkPartOrJoint(findings, found.about, [...path, 'about'])
    }
  })
}

export function checkEquipment(findings: Findings): void {
  const { drawing } = findings
  const { nextIds } = drawing
  checkIds(findings, drawing.enclosures, 'enclosure', ['drawing', 'enclosures'], nextIds.enclosure)
  checkIds(findings, drawing.earthBars, 'earth bar', ['drawing', 'earthBars'], nextIds.earthBar)
  checkIds(findings, drawing.electrodes, 'electrode', ['drawing', 'electrodes'], nextIds.electrode)
  checkIds(findings, drawing.conductors, 'conductor', ['drawing', 'conductors'], nextIds.conductor)
  drawing.conductors.forEach((conductor, k) => {
    checkConductor(findings, conductor, ['drawing', 'conductors', k])
  })
  checkIds(findings, drawing.extraJoints, 'extra joint', ['drawing', 'extraJoints'], nextIds.extraJoint)
  drawing.extraJoints.forEach((joint, k) => {
    const path = ['drawing', 'extraJoints', k]
    checkEnds(findings, joint.from, joint.to, path, 'mustExist')
    checkKind(findings, joint.kind, [...path, 'kind'], joint.medianOhm !== null)
  })
  checkDifferingJoints(findings)
  checkAsBuilt(findings)
}
