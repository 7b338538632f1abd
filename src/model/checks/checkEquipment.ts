import { parseJointAddress, writeJointAddress } from '../address.ts'
import { conductorSizeIds } from '../conductorSizes.ts'
import { problem } from '../problem.ts'
import type { AsBuilt, Conductor, DifferingJoint, ExtraJoint } from '../schema/equipment.ts'
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

export function checkConductor(findings: Findings, conductor: Conductor, path: Path): void {
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

/** Two texts that name one joint are one joint. */
export function writtenJoint(joint: string): string {
  const address = parseJointAddress(joint)
  return address ? writeJointAddress(address) : joint
}

export function checkDifferingJoint(findings: Findings, differing: DifferingJoint, path: Path): void {
  const { joint } = differing
  checkJoint(findings, joint, [...path, 'joint'], 'mayStray')
  const at = parseJointAddress(joint)?.at
  if (at === 'extra' || at === 'asBuilt') {
    inconsistent(findings, 'a joint with an address of its own is changed where it stands', [
      ...path,
      'joint',
    ])
  }
  if (differing.change === 'other') checkOther(findings, joint, differing.kind, differing.medianOhm, path)
}

export function checkAsBuilt(findings: Findings, { found }: AsBuilt, itemPath: Path): void {
  const path = [...itemPath, 'found']
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
}

export function checkExtraJoint(findings: Findings, joint: ExtraJoint, path: Path): void {
  checkEnds(findings, joint.from, joint.to, path, 'mustExist')
  checkKind(findings, joint.kind, [...path, 'kind'], joint.medianOhm !== null)
}
