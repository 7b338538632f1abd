import { jointAddressOf } from '../engine/networkRows.ts'
import type { NetworkAnswer } from '../engine/networkAnswer.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { planSeverities, sights, type CoverageAnswer, type PlanSeverity } from '../model/planning.ts'

/** What pairs show, for each way in which a joint may go bad. */
export type Coverages = Readonly<Record<PlanSeverity, CoverageAnswer>>

/** How many joints of one kind show. */
export interface KindRow {
  readonly kind: string
  /** That can go bad. */
  readonly joints: number
  readonly shown: Readonly<Record<PlanSeverity, number>>
  /** Of those that show open: in one pair only, in two or more. */
  readonly once: number
  readonly twice: number
}

/** How one joint shows: its sight, and by how many pairs (255 and more: 255). */
export interface JointRow {
  readonly joint: string
  readonly kind: string
  readonly sight: Readonly<Record<PlanSeverity, string>>
  readonly shownBy: Readonly<Record<PlanSeverity, number>>
}

const cannotFail = sights.indexOf('cannotFail')

/** Kinds with joints that can go bad, most joints first. O(joints). */
export function kindRows(network: NetworkAnswer, coverages: Coverages): readonly KindRow[] {
  const rows = network.kindNames.map((kind) => ({
    kind,
    joints: 0,
    shown: { tripled: 0, tenfold: 0, hundredfold: 0, open: 0 },
    once: 0,
    twice: 0,
  }))
  for (const edge of countedEdges(network, coverages)) {
    const joint = network.jointOfEdge[edge]
    const row = rows[network.kind[edge]]
    row.joints++
    for (const severity of planSeverities) {
      if (coverages[severity].shownBy[joint] > 0) row.shown[severity]++
    }
    const pairs = coverages.open.shownBy[joint]
    if (pairs === 1) row.once++
    else if (pairs > 1) row.twice++
  }
  return rows
    .filter(({ joints }) => joints > 0)
    .sort((x, y) => y.joints - x.joints || (x.kind < y.kind ? -1 : 1))
}

/** Every joint that can go bad, in the order of the network. */
export function* jointRows(
  network: NetworkAnswer,
  index: SiteIndex,
  coverages: Coverages,
): Generator<JointRow> {
  for (const edge of countedEdges(network, coverages)) {
    const joint = network.jointOfEdge[edge]
    const bySeverity = <T>(value: (answer: CoverageAnswer) => T) =>
      Object.fromEntries(planSeverities.map((each) => [each, value(coverages[each])])) as Record<
        PlanSeverity,
        T
      >
    yield {
      joint: jointAddressOf(network, index, edge),
      kind: network.kindNames[network.kind[edge]],
      sight: bySeverity(({ sight }) => sights[sight[joint]]),
      shownBy: bySeverity(({ shownBy }) => shownBy[joint]),
    }
  }
}

function* countedEdges(
  { edgeCount, jointOfEdge }: NetworkAnswer,
  { open: { sight } }: Coverages,
): Generator<number> {
  for (let edge = 0; edge < edgeCount; edge++) if (sight[jointOfEdge[edge]] !== cannotFail) yield edge
}
