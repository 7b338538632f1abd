import { computedKinds } from '../jointCatalogue.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Findings } from './findings.ts'
import { addWrong, checkEnds, checkIds, checkPart, checkPartOrJoint, inconsistent } from './findings.ts'

export function checkCatalogue(findings: Findings): void {
  const { jointKinds } = findings.drawing
  const path = ['drawing', 'jointKinds']
  checkIds(findings, jointKinds, 'joint kind', path)
  const kinds = byId(jointKinds)
  for (const name of computedKinds) {
    if (kinds.has(name)) continue
    addWrong(findings, problem('reference.unknownName', { what: 'joint kind', name }, { path }))
  }
}

export function checkCriteria(findings: Findings): void {
  const { criteria } = findings.drawing
  checkIds(findings, criteria, 'criterion', ['drawing', 'criteria'])
  criteria.forEach(({ investigateAboveOhm, rejectAboveOhm }, k) => {
    if (investigateAboveOhm === null || rejectAboveOhm === null) return
    if (rejectAboveOhm < investigateAboveOhm) {
      const path = ['drawing', 'criteria', k, 'rejectAboveOhm']
      inconsistent(findings, 'the level to reject is below the level to investigate', path)
    }
  })
}

export function checkPlans(findings: Findings): void {
  const { plans } = findings.drawing
  checkIds(findings, plans, 'plan', ['drawing', 'plans'])
  plans.forEach((plan, k) => {
    const path = ['drawing', 'plans', k, 'pairs']
    checkIds(findings, plan.pairs, 'pair', path, plan.nextPair)
    plan.pairs.forEach(({ from, to }, p) => checkEnds(findings, from, to, [...path, p], 'mayStray'))
  })
}

/** Access, aisles and obstacles; sources, protective devices and lessons. */
export function checkSurroundings(findings: Findings): void {
  const { drawing } = findings
  const { nextIds } = drawing
  const access = drawing.access.map(({ part }) => ({ id: part }))
  checkIds(findings, access, 'access', ['drawing', 'access'])
  checkIds(findings, drawing.aisles, 'aisle', ['drawing', 'aisles'], nextIds.aisle)
  checkIds(findings, drawing.obstacles, 'obstacle', ['drawing', 'obstacles'], nextIds.obstacle)
  checkIds(findings, drawing.sources, 'source', ['drawing', 'sources'])
  drawing.sources.forEach((source, k) => {
    if (source.form !== 'ac' || source.returnPart === null) return
    checkPart(findings, source.returnPart, ['drawing', 'sources', k, 'returnPart'], 'mustExist')
  })
  checkIds(findings, drawing.devices, 'device', ['drawing', 'devices'])
  const sources = byId(drawing.sources)
  drawing.devices.forEach(({ protects }, k) => {
    if (protects === null || sources.has(protects)) return
    const where = { path: ['drawing', 'devices', k, 'protects'] }
    addWrong(findings, problem('reference.unknownName', { what: 'source', name: protects }, where))
  })
  checkIds(findings, drawing.lessons, 'lesson', ['drawing', 'lessons'])
  drawing.lessons.forEach((lesson, k) => {
    lesson.steps.forEach(({ about }, s) => {
      const path = ['drawing', 'lessons', k, 'steps', s, 'about']
      if (about !== null) checkPartOrJoint(findings, about, path)
    })
  })
}
