import type { LimitedBy } from '../model/faultAnswers.ts'
import type { Circuit } from './circuit.ts'
import { operatingPoint } from './operatingPoint.ts'
import type { OperatingPoint } from './operatingPoint.ts'
import { faultLinkA } from './faultPoint.ts'

/** By how much the ohms outside the source are changed to see what the current does. */
const nudge = 1e-3
/** Volts, and parts of an ampere, that count as none. */
const noVolt = 1e-9
export const leastPart = 1e-9

/**
 * What limits the current of a fault. With the ohms outside the source a little larger, a stiff source gives that much less
 * current and one that limits its own gives as much as before; the border is half of it, which is where the ohms outside
 * equal the source's own slope dV/dI.
 */
export function limitedBy(point: OperatingPoint): LimitedBy {
  const { circuit, network } = point.equations
  if (Math.abs(circuit.openV) < noVolt) return 'noVoltage'
  if (!hasWayBack(circuit, network.island)) return 'noPath'
  const amp = Math.abs(faultLinkA(point))
  if (isByInsulation(point)) return 'insulation'
  if (!circuit.module) return 'resistance'
  const links = circuit.links.map((link) => ({ ...link, ohm: link.ohm * (1 + nudge) }))
  const more = { ...network, ohm: network.ohm.map((ohm) => ohm * (1 + nudge)) }
  const less = Math.abs(faultLinkA(operatingPoint({ ...circuit, links }, more, point.x)))
  return 1 - less / amp < nudge / 2 ? 'sourceCurrent' : 'resistance'
}

/** Whether another link than that of the fault leads into the island where the fault is. */
function hasWayBack({ links, faultLink }: Circuit, island: readonly number[]): boolean {
  const where = island[links[faultLink].ports[0].at]
  return links.some((link, l) => l !== faultLink && link.ports.some(({ at }) => island[at] === where))
}

/** Whether most of the current comes back through insulation. */
function isByInsulation({ equations: { circuit, network }, x }: OperatingPoint): boolean {
  const { links, faultLink, nodeCount } = circuit
  const where = network.island[links[faultLink].ports[0].at]
  let through = 0
  let all = 0
  links.forEach(({ role, ports }, l) => {
    if (l === faultLink || network.island[ports[0].at] !== where) return
    all += Math.abs(x[nodeCount + l])
    if (role === 'insulation') through += Math.abs(x[nodeCount + l])
  })
  return through > all / 2
}
