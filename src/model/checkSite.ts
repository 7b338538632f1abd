import { checkRecord } from './checks/checkRecord.ts'
import type { Findings } from './checks/findings.ts'
import { addWrong } from './checks/findings.ts'
import { checkSectionIds, checkSectionItems, sectionNames } from './checks/sections.ts'
import { countJoints, countParts } from './countJoints.ts'
import { computedKinds } from './jointCatalogue.ts'
import { limits } from './limits.ts'
import type { Problem } from './problem.ts'
import { problem } from './problem.ts'
import { byId } from './queries/byId.ts'
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

/** Kinds that the network looks up by name have to be in the catalogue. */
function checkComputedKinds(findings: Findings): void {
  const kinds = byId(findings.drawing.jointKinds)
  for (const name of computedKinds) {
    if (kinds.has(name)) continue
    const where = { path: ['drawing', 'jointKinds'] }
    addWrong(findings, problem('reference.unknownName', { what: 'joint kind', name }, where))
  }
}

function findAll(site: Site): Findings {
  const findings: Findings = { drawing: site.drawing, wrong: [], told: [] }
  checkComputedKinds(findings)
  for (const name of sectionNames) {
    checkSectionIds(findings, name)
    checkSectionItems(findings, name)
  }
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
 * What a user should be told about a site although it can be worked with; at most 50, each with its path.
 * Addresses of good form in plans, record, lessons, differing joints and as-built differences that name
 * nothing in the drawing as it stands: a reading stays when the row it was taken on is drawn otherwise; they
 * are left out of the network. And entries that share device and counter, which leaves their order open.
 */
export function siteNotices(site: Site): readonly Problem[] {
  return findAll(site).told
}
