import { checkEquipment } from './checks/checkEquipment.ts'
import { checkCatalogue, checkCriteria, checkPlans, checkSurroundings } from './checks/checkPlanning.ts'
import { checkRecord } from './checks/checkRecord.ts'
import { checkRows } from './checks/checkRows.ts'
import { checkTableTypes } from './checks/checkTableTypes.ts'
import type { Findings } from './checks/findings.ts'
import { countJoints, countParts } from './countJoints.ts'
import { limits } from './limits.ts'
import type { Problem } from './problem.ts'
import { problem } from './problem.ts'
import type { Drawing } from './schema/drawing.ts'
import type { Site } from './schema/site.ts'

/** A drawing that would expand to more than the program handles; computed without expanding it. */
export function checkSize(drawing: Drawing): Problem | null {
  const joints = countJoints(drawing)
  const where = { path: ['drawing', 'rows'] }
  if (joints > limits.joints) return problem('size.tooManyJoints', { joints, most: limits.joints }, where)
  const parts = countParts(drawing)
  if (parts > limits.parts)
    return problem('size.tooMany', { what: 'parts', found: parts, most: limits.parts }, where)
  return null
}

function findAll(site: Site): Findings {
  const findings: Findings = { drawing: site.drawing, wrong: [], stray: [] }
  checkCatalogue(findings)
  checkTableTypes(findings)
  checkRows(findings)
  checkEquipment(findings)
  checkCriteria(findings)
  checkPlans(findings)
  checkSurroundings(findings)
  checkRecord(findings, site.record)
  return findings
}

/**
 * What no schema can say about a site of the right shape: ids given twice or not counted, names and
 * addresses that mean nothing, values that contradict each other, a size beyond the limits. Empty for a
 * site that the program can work with; at most 50 problems, each with its path. Cost O(document).
 */
export function checkSite(site: Site): readonly Problem[] {
  const tooLarge = checkSize(site.drawing)
  return tooLarge ? [tooLarge] : findAll(site).wrong
}

/**
 * Addresses of good form in plans, the record, lessons, differing joints and as-built differences that name
 * nothing in the drawing as it stands. They are no fault of the file: a reading stays when the row it was
 * taken on is drawn otherwise. They are left out of the network and shown. At most 50, each with its path.
 */
export function strayAddresses(site: Site): readonly Problem[] {
  return findAll(site).stray
}
