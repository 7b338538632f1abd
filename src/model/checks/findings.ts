import type { JointAddress } from '../address.ts'
import { parseJointAddress, parsePartAddress } from '../address.ts'
import { jointExists, nearestPart, partExists } from '../presence.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Drawing } from '../schema/drawing.ts'

export type Path = readonly (string | number)[]

/** More than anyone reads in one go; what follows is usually the same mistake again. */
export const mostFindings = 50

/**
 * What the checks of one site found. What is `wrong` contradicts itself and is refused. What is `told` is kept:
 * above all addresses of good form that name nothing in the drawing, for what was recorded or planned stays
 * when the drawing under it changes.
 */
export interface Findings {
  readonly drawing: Drawing
  readonly wrong: Problem[]
  readonly told: Problem[]
}

export function addWrong(findings: Findings, found: Problem): void {
  if (findings.wrong.length < mostFindings) findings.wrong.push(found)
}

export function addTold(findings: Findings, found: Problem): void {
  if (findings.told.length < mostFindings) findings.told.push(found)
}

/** `mustExist` for what the network is built from; `mayStray` for what is kept whatever becomes of the drawing. */
export type Need = 'mustExist' | 'mayStray'

export function checkPart(findings: Findings, text: string, path: Path, need: Need, entry?: string): void {
  const address = parsePartAddress(text)
  const where = { path, address: text, entry }
  if (!address) {
    addWrong(findings, problem('reference.badAddress', { text, expected: 'part' }, where))
  } else if (!partExists(findings.drawing, address)) {
    const nearest = nearestPart(findings.drawing, address)
    const add = need === 'mustExist' ? addWrong : addTold
    add(findings, problem('reference.noSuchPart', { text, nearest }, where))
  }
}

export function checkJoint(findings: Findings, text: string, path: Path, need: Need, entry?: string): void {
  const address = parseJointAddress(text)
  const where = { path, address: text, entry }
  if (!address) {
    addWrong(findings, problem('reference.badAddress', { text, expected: 'joint' }, where))
  } else if (!jointExists(findings.drawing, address)) {
    const add = need === 'mustExist' ? addWrong : addTold
    add(findings, problem('reference.noSuchJoint', { text, nearest: null }, where))
  }
}

/** An address that may name a part or a joint: what a note or a lesson step is about. */
export function checkPartOrJoint(findings: Findings, text: string, path: Path, entry?: string): void {
  const looksLikeJoint = /[~+]|^[JA]/.test(text)
  if (looksLikeJoint) checkJoint(findings, text, path, 'mayStray', entry)
  else checkPart(findings, text, path, 'mayStray', entry)
}

/** Two parts that something joins or is measured between: each in order, not the same, not remote earth. */
export function checkEnds(findings: Findings, from: string, to: string, path: Path, need: Need): void {
  checkPart(findings, from, [...path, 'from'], need)
  checkPart(findings, to, [...path, 'to'], need)
  if (from === to) addWrong(findings, problem('reference.samePart', { text: from }, { path, address: from }))
  for (const [key, text] of Object.entries({ from, to })) {
    if (text === 'earth') {
      const reason = 'remote earth is no metal that anything can be joined or clipped to'
      addWrong(findings, problem('value.inconsistent', { reason }, { path: [...path, key], address: text }))
    }
  }
}

/** A joint kind must be in the catalogue, with a median unless the place has ohms of its own. */
export function checkKind(findings: Findings, kind: string, path: Path, ohmKnown = false): void {
  const found = byId(findings.drawing.jointKinds).get(kind)
  if (!found) {
    addWrong(findings, problem('reference.unknownName', { what: 'joint kind', name: kind }, { path }))
  } else if (found.medianOhm === null && !ohmKnown) {
    const reason = `the joint kind "${kind}" has no median ohms, and none are given here`
    addWrong(findings, problem('value.inconsistent', { reason }, { path }))
  }
}

/** Ids of one list: no two alike, and none that the counter could give out again. */
export function checkIdList(
  findings: Findings,
  ids: readonly (number | string)[],
  { what, idKey }: { readonly what: string; readonly idKey: string },
  path: Path,
  next: number | null,
): void {
  const seen = new Set<number | string>()
  ids.forEach((id, k) => {
    const where = { path: [...path, k, idKey] }
    if (seen.has(id)) addWrong(findings, problem('reference.duplicateId', { what, id: String(id) }, where))
    seen.add(id)
    if (next !== null && typeof id === 'number' && id >= next) {
      addWrong(findings, problem('reference.idNotCounted', { what, id, next }, where))
    }
  })
}

export function checkIds(
  findings: Findings,
  items: readonly { readonly id: number | string }[],
  what: string,
  path: Path,
  next: number | null = null,
): void {
  const ids = items.map(({ id }) => id)
  checkIdList(findings, ids, { what, idKey: 'id' }, path, next)
}

export function inconsistent(findings: Findings, reason: string, path: Path, entry?: string): void {
  addWrong(findings, problem('value.inconsistent', { reason }, { path, entry }))
}

/** Joints whose ohms follow from metal and length or from soil: they need no median. */
export function hasComputedOhm(address: JointAddress | null): boolean {
  if (!address) return false
  if (address.at === 'wire' || address.at === 'earthPath') return true
  return address.at === 'table' && address.from.of === 'longMember' && address.to.of === 'longMember'
}
