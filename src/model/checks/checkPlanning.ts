import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { FaultSource, Lesson, ProtectiveDevice } from '../schema/faults.ts'
import type { Criterion, Plan } from '../schema/planning.ts'
import type { Findings, Path } from './findings.ts'
import { addWrong, checkEnds, checkIds, checkPart, checkPartOrJoint, inconsistent } from './findings.ts'

export function checkCriterion(findings: Findings, criterion: Criterion, path: Path): void {
  const { investigateAboveOhm, rejectAboveOhm } = criterion
  if (investigateAboveOhm === null || rejectAboveOhm === null) return
  if (rejectAboveOhm >= investigateAboveOhm) return
  const reason = 'the level to reject is below the level to investigate'
  inconsistent(findings, reason, [...path, 'rejectAboveOhm'])
}

export function checkPlan(findings: Findings, plan: Plan, path: Path): void {
  const at = [...path, 'pairs']
  checkIds(findings, plan.pairs, 'pair', at, plan.nextPair)
  plan.pairs.forEach(({ from, to }, k) => checkEnds(findings, from, to, [...at, k], 'mayStray'))
}

export function checkSource(findings: Findings, source: FaultSource, path: Path): void {
  if (source.form !== 'ac' || source.returnPart === null) return
  checkPart(findings, source.returnPart, [...path, 'returnPart'], 'mustExist')
}

export function checkDevice(findings: Findings, { protects }: ProtectiveDevice, path: Path): void {
  if (protects === null || byId(findings.drawing.sources).has(protects)) return
  const facts = { what: 'source', name: protects }
  addWrong(findings, problem('reference.unknownName', facts, { path: [...path, 'protects'] }))
}

export function checkLesson(findings: Findings, lesson: Lesson, path: Path): void {
  lesson.steps.forEach(({ about }, k) => {
    if (about !== null) checkPartOrJoint(findings, about, [...path, 'steps', k, 'about'])
  })
}
