import { randomStream, type RandomStream } from '../../../../src/base/random.ts'
import { crossedBy } from '../generator/crossedBy.ts'
import { drawDrawing } from '../generator/drawDrawing.ts'
import { drawAddedOhm, drawFaults, drawSound, faultShares, type Fault } from '../generator/drawOhms.ts'
import { drawPairs, type Pair } from '../generator/drawPairs.ts'
import { measured, type Scenario } from '../generator/drawScenario.ts'
import { possibleNetwork, type PossibleNetwork } from '../generator/possibleNetwork.ts'
import type { LargeFamily } from './largeFamilies.ts'

/** Bad joints here and there, or one kind of joint that a crew left without torque along a whole row. */
export type Pattern = 'scattered' | 'untorqued row'

export const scattered = { least: 5, most: 500 } as const
/** Chance of each joint of an untorqued row to be bad; raised then, not open. */
const untorquedRate = 0.5
const readings = { least: 60, most: 200 } as const

const rowOf = (address: string) => /^R(\d+)\//.exec(address)?.[1] ?? null

/** All readings from the bar, then whole rows by lot until about so many readings come together. */
export function choosePairs(all: readonly Pair[], random: RandomStream): Pair[] {
  const wanted = readings.least + random.integer(readings.most - readings.least + 1)
  const chosen = all.filter(({ from }) => rowOf(from) === null).slice(0, wanted)
  const rows = [...new Set(all.flatMap(({ from }) => rowOf(from) ?? []))]
  while (chosen.length < wanted && rows.length > 0) {
    const [row] = rows.splice(random.integer(rows.length), 1)
    chosen.push(...all.filter(({ from }) => rowOf(from) === row).slice(0, wanted - chosen.length))
  }
  return chosen
}

/** One kind of joint along one of the rows that were read: each bad with even chances. */
function untorquedRow(
  { network, address, undrawn }: PossibleNetwork,
  pairs: readonly Pair[],
  random: RandomStream,
): Fault[] {
  const rows = [...new Set(pairs.flatMap(({ from }) => rowOf(from) ?? []))]
  const row = rows[random.integer(rows.length)]
  const nobodys = new Set(undrawn)
  const kindOf = (e: number) => network.kinds[network.kind[e]].id
  const inRow = [...address.keys()].filter((e) => rowOf(address[e]) === row && !nobodys.has(e))
  const kinds = ['frameClamp', 'bracket', 'jumper'].filter((id) => inRow.some((e) => kindOf(e) === id))
  const kind = kinds[random.integer(kinds.length)]
  return inRow
    .filter((e) => kindOf(e) === kind && random.uniform() < untorquedRate)
    .map((edge) => ({ edge, addedOhm: drawAddedOhm(network, edge, random) }))
}

/** A site of some thousands of joints with many bad ones. */
export function drawLarge(
  family: LargeFamily,
  seed: number,
): { readonly scenario: Scenario; readonly pattern: Pattern } {
  const random = randomStream(seed)
  const shape = family.drawShape(random)
  const drawing = drawDrawing(family, shape, random)
  const pairs = choosePairs(drawPairs(family, shape, random), random)
  const possible = possibleNetwork(drawing, shape)
  const shares = faultShares(possible, crossedBy(possible, pairs))
  const { ohm, levels } = drawSound(possible, random)
  const pattern: Pattern = random.uniform() < 0.5 ? 'scattered' : 'untorqued row'
  const count = Math.round(scattered.least * (scattered.most / scattered.least) ** random.uniform())
  const faults =
    pattern === 'scattered'
      ? drawFaults(possible.network, shares, count, random)
      : untorquedRow(possible, pairs, random)
  for (const { edge, addedOhm } of faults) ohm[edge] += addedOhm
  const built = { family, seed, shape, drawing, pairs, possible, shares, ohm, faults, levels }
  return { scenario: measured(built, random), pattern }
}
