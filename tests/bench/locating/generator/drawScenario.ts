import { randomStream, type RandomStream } from '../../../../src/base/random.ts'
import type { Drawing } from '../../../../src/model/schema/drawing.ts'
import { siteFormat, siteVersion, type Site } from '../../../../src/model/schema/site.ts'
import { drawUuid } from '../../../generator/identity.ts'
import { longLead } from '../../../generator/testKits.ts'
import { crossedBy } from './crossedBy.ts'
import { drawDrawing, drawShape, type Shape } from './drawDrawing.ts'
import { drawFaultCount, drawFaults, drawSound, faultShares, type Fault } from './drawOhms.ts'
import { drawPairs, type Pair } from './drawPairs.ts'
import { contactFactors, type Family } from './families.ts'
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
  /** By kind of joint: factor of the catalogue's level. */
  readonly levels: readonly number[]
  /** By what the rate of poor contacts was multiplied. */
  readonly contactFactor: number
  /** All that a method may see. */
  readonly site: Site
}

/** An array with what is wrong with it, before anybody has read anything. */
export type Built = Omit<Scenario, 'contactFactor' | 'site'> & { readonly drawing: Drawing }

export function drawScenario(family: Family, seed: number): Scenario {
  const random = randomStream(seed)
  const shape = drawShape(family, random)
  const drawing = drawDrawing(family, shape, random)
  const pairs = drawPairs(family, shape, random)
  const possible = possibleNetwork(drawing, shape)
  const { network } = possible
  const shares = faultShares(possible, crossedBy(possible, pairs))
  const { ohm, levels } = drawSound(possible, random)
  const faults = drawFaults(network, shares, drawFaultCount(random), random)
  for (const { edge, addedOhm } of faults) ohm[edge] += addedOhm
  return measured({ family, seed, shape, drawing, pairs, possible, shares, ohm, faults, levels }, random)
}

/** A crew reads all pairs and writes them down. */
export function measured({ drawing, ...built }: Built, random: RandomStream): Scenario {
  const { family, seed, pairs, possible, ohm } = built
  const { network } = possible
  const solved = solveOhms(network, ohm)
  const lead = family.kit.method === 'twoWire' ? longLead : null
  const contactFactor = family.contactsByLot ? contactFactors[random.integer(contactFactors.length)] : 1
  const visit = startVisit({ network, solved, kit: family.kit, lead, random, contactFactor })
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
  return { ...built, contactFactor, site }
}

/** The drawn conductors' wires: what jaws go round. */
function wires({ network, address }: PossibleNetwork) {
  return address.flatMap((joint, edge) =>
    network.kinds[network.kind[edge]].id === 'wire'
      ? [{ joint, edge, part: joint.slice(0, joint.indexOf('~')) }]
      : [],
  )
}
