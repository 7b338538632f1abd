import { portion } from '../base/portion.ts'
import { candidateList } from './candidateList.ts'
import { addPair, type Making } from './candidateMaking.ts'
import type { Candidates } from './candidates.ts'
import { addAcrossRows, addEquipment } from './furtherPairs.ts'
import type { HiddenTerms } from './hidden.ts'
import { likeTables } from './likeTables.ts'
import { isAccessible } from './ownPairs.ts'
import { chainNumbers } from './tableChains.ts'
import { addTables, pointsOfClasses } from './tablePairs.ts'

/** With so few accessible parts every pair of them is looked at. */
const mostForAll = 150

/**
 * The pairs to choose a plan from. On a small site all that can be taken; else those that the site's structure suggests:
 * across every joint that the kit can show (its own ends or the nearest parts that clips reach), among these points of one
 * table, between tables of a row and of neighbouring rows, from tables to bars and enclosures near them, and
 * among equipment. Tables that are alike share what was solved for the first of them.
 */
export function* candidatesOf(terms: HiddenTerms): Generator<number, Candidates> {
  const { network } = terms.book.sighting.prepared
  const { reachable } = terms
  const parts: number[] = []
  for (let p = 0; p < network.remoteEarth && parts.length <= mostForAll; p++) {
    if (isAccessible(network, reachable, p)) parts.push(p)
  }
  const tables = yield* portion(likeTables(network), 0, 0.1)
  const making: Making = {
    terms,
    tables,
    list: candidateList(),
    likePairs: new Map(),
    chainNumber: chainNumbers(tables),
    seen: new Set(),
    templates: 0,
  }
  if (parts.length <= mostForAll) {
    yield* portion(addAll(making, parts), 0.1, 0.9)
    return making.list.done(making.templates, true)
  }
  const points = yield* portion(pointsOfClasses(making), 0.1, 0.1)
  yield* portion(addTables(making, points), 0.2, 0.6)
  yield* portion(addAcrossRows(making, points), 0.8, 0.05)
  yield* portion(addEquipment(making, points), 0.85, 0.15)
  return making.list.done(making.templates, false)
}

function* addAll(making: Making, parts: readonly number[]): Generator<number, void> {
  for (let k = 0; k < parts.length; k++) {
    for (let l = k + 1; l < parts.length; l++) {
      yield* portion(addPair(making, { a: parts[k], b: parts[l] }), k / parts.length, 0)
    }
    yield k / parts.length
  }
}
