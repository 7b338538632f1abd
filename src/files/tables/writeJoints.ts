import { ok } from '../../base/result.ts'
import type { Result } from '../../base/result.ts'
import { jointAddressAt } from '../../layout/jointIndex.ts'
import { partAddressAt } from '../../layout/partIndex.ts'
import { partPositionM } from '../../layout/positions.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import { writeJointAddress, writePartAddress } from '../../model/address.ts'
import type { Problem } from '../../model/problem.ts'
import { compileNetwork } from '../../network/compile.ts'
import type { Network } from '../../network/compile.ts'
import { endOf, jointMedianOhm } from '../../network/earthPath.ts'
import type { Units } from '../../text/units.ts'
import { csvLine } from '../csvLine.ts'
import type { ExportPiece } from '../exportPiece.ts'
import { linesInPiece } from '../exportPiece.ts'
import { roundedLength } from './writeTables.ts'

/** A line is about so long, for a size that is told before any line is made; measured on the demo sites. */
export const jointLineBytes = 90

/** Share of the work that putting the network together takes. */
const compileShare = 0.2

/** Six figures: far finer than anything is known of a joint, without the noise of the last digits. */
const sixFigures = (value: number) => Number(value.toPrecision(6))

/**
 * Joints as designed, as CSV: address, kind, the two parts, the median of sound joints in milliohm, the standard deviation of
 * its natural logarithm, and a place: the middle between the parts, or the part where the other end is soil. Incidental
 * contact is in it, as-built differences are not. Yields stretches of the file; one of them is in memory. Fails on drawn
 * sizes that give no resistance.
 */
export function* writeJoints(
  index: SiteIndex,
  units: Units,
): Generator<ExportPiece, Result<null, Problem[]>> {
  const compiling = compileNetwork(index.drawing, index, { countIncidental: true, asBuilt: false })
  let step = compiling.next()
  for (; !step.done; step = compiling.next()) yield { text: '', fraction: compileShare * step.value }
  if (!step.value.ok) return step.value
  const network = step.value.value
  const unit = units === 'us' ? 'ft' : 'm'
  let text = csvLine([
    'address',
    'kind',
    'from',
    'to',
    'median (mohm)',
    'ln spread',
    `x (${unit})`,
    `y (${unit})`,
  ])
  for (let edge = 0; edge < network.edgeCount; edge++) {
    text += jointLine(network, edge, units)
    if ((edge + 1) % linesInPiece !== 0) continue
    yield { text, fraction: compileShare + ((1 - compileShare) * edge) / network.edgeCount }
    text = ''
  }
  yield { text, fraction: 1 }
  return ok(null)
}

function jointLine(network: Network, edge: number, units: Units): string {
  const { index, graph, jointOfEdge, kind, kinds, lnSpread } = network
  const from = graph.from[edge]
  const to = endOf(network, graph.to[edge])
  const one = partPositionM(index, from)
  const other = partPositionM(index, to)
  const at = one && other ? { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 } : (one ?? other)
  const part = (node: number) => writePartAddress(partAddressAt(index, node))
  return csvLine([
    writeJointAddress(jointAddressAt(index, jointOfEdge[edge])),
    kinds[kind[edge]].name,
    part(from),
    part(to),
    sixFigures(jointMedianOhm(network, edge) * 1000),
    sixFigures(lnSpread[edge]),
    at && roundedLength(at.x, units),
    at && roundedLength(at.y, units),
  ])
}
