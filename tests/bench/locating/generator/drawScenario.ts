import { randomStream } from '../../../../src/base/random.ts'
import { siteFormat, siteVersion, type Site } from '../../../../src/model/schema/site.ts'
import { drawUuid } from '../../../generator/identity.ts'
import { longLead } from '../../../generator/testKits.ts'
import { crossedBy } from './crossedBy.ts'
import { drawDrawing, drawShape, type Shape } from './drawDrawing.ts'
import { drawFaultCount, drawFaults, drawSoundOhms, faultShares, type Fault } from './drawOhms.ts'
import { drawPairs, type Pair } from './drawPairs.ts'
import type { Family } from './families.ts'
import { possibleNetwork, type PossibleNetwork } from './possibleNetwork.ts'
import { solveOhms } from './solveOhms.ts'
import { clampReadings, startVisit, swapLabels } from './takeReadings.ts'

/** One array with what is wrong with it, and the site file that a user would have. */
export interface Scenario {
  readonly family: Family
  readonly seed: number
  readonly shape: Shape
  readonly pairs: readonly Pair[]
  readonly possible: PossibleNetwork
  /** By which bad joints are drawn. */
  readonly shares: Float64Array
  /** Of every edge of the possible network, faults in. */
  readonly ohm: Float64Array
  readonly faults: readonly Fault[]
  /** All that a method may see. */
  readonly site: Site
}

export function drawScenario(family: Family, seed: number): Scenario {
  const random = randomStream(seed)
  const shape = drawShape(family, random)
  const drawing = drawDrawing(family, shape, random)
  const pairs = drawPairs(family, shape, random)
  const possible = possibleNetwork(drawing, shape)
  const { network } = possible
  const shares = faultShares(possible, crossedBy(possible, pairs))
  const ohm = drawSoundOhms(possible, random)
  const faults = drawFaults(network, shares, drawFaultCount(random), random)
  for (const { edge, addedOhm } of faults) ohm[edge] += addedOhm
  const solved = solveOhms(network, ohm)
  const lead = family.kit.method === 'twoWire' ? longLead : null
  const visit = startVisit({ network, solved, kit: family.kit, lead, random })
  pairs.forEach((pair, k) => {
    const isNew = pairs[k - 1]?.from !== pair.from
    if (isNew) visit.setUp(pair.from, pairs.filter(({ from }) => from === pair.from).length)
    visit.read(pair)
  })
  const clamped = family.withLoopClamp
    ? wires(possible).map((each) => ({ ...each, loopOhm: solved.around(each.edge) }))
    : []
  const record = [...swapLabels(visit.record, random), ...clampReadings(visit.record, clamped, random)]
  const site: Site = {
    format: siteFormat,
    version: siteVersion,
    id: drawUuid(random),
    name: `${family.name} ${seed}`,
    drawing,
    record,
  }
  return { family, seed, shape, pairs, possible, shares, ohm, faults, site }
}

/** The drawn conductors' wires: what jaws go round. */
function wires({ network, address }: PossibleNetwork) {
  return address.flatMap((joint, edge) =>
    network.kinds[network.kind[edge]].id === 'wire'
      ? [{ joint, edge, part: joint.slice(0, joint.indexOf('~')) }]
      : [],
  )
}
