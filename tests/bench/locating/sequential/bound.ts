import { normalCdf } from '../../../../src/base/normal.ts'
import { riseOhm } from '../../../../src/network/jointSweep.ts'
import type { Kit } from '../../../../src/model/schema/record.ts'
import { contact } from '../../../generator/assumedValues.ts'
import type { Scenario } from '../generator/drawScenario.ts'
import { nodeOf } from '../generator/solveOhms.ts'
import { visibleSeverities } from '../methods/severityGrid.ts'
import { currentsSquared, ownSdOhm, type TypedSite } from '../typedSite.ts'

/** What there is to be found out, and what one reading can say of it. */
export interface Bound {
  /** Of which joint is bad, where one is that could be seen. */
  readonly entropyBits: number
  /** Mutual information of the best single pair. */
  readonly bitsPerReading: number
}

/** Chance that a poor contact adds at most so many ohms. */
function poorCdf(ohm: number): number {
  const { highShare, highFromOhm, highToOhm, poorMedianOhm, poorLnSpread } = contact
  if (ohm <= 0) return 0
  const high = Math.log(Math.max(1, ohm / highFromOhm)) / Math.log(highToOhm / highFromOhm)
  return (
    (1 - highShare) * normalCdf(Math.log(ohm / poorMedianOhm) / poorLnSpread) +
    (highShare / 2) * Math.min(1, high)
  )
}

/** Chance that a reading of a pair of so many ohms shows less than `shown`. */
function shownCdf(shown: number, kit: Kit, networkOhm: number): number {
  if (networkOhm === Infinity) return 0
  const sound = normalCdf((shown - networkOhm) / ownSdOhm(kit, networkOhm))
  const isTwoWire = kit.method === 'twoWire'
  const poor = isTwoWire ? contact.poorRate.bare : contact.poorFourWireRate
  return (1 - poor) * sound + (isTwoWire ? poor * poorCdf(shown - networkOhm) : 0)
}

/** Cells of what a display may show: from the sound value in growing steps to the end of the range, and beyond. */
function cellEnds(kit: Kit, networkOhm: number): number[] {
  const first = ownSdOhm(kit, networkOhm) / 2
  const cells = 40
  const most = Math.max(2 * first, kit.mostOhm - networkOhm)
  const up = Array.from({ length: cells }, (_, k) => networkOhm + first * (most / first) ** (k / (cells - 1)))
  return [networkOhm - 4 * first, networkOhm - first, networkOhm, ...up]
}

/** Σ_e p_e Σ_c q_ec log₂ (q_ec / Σ p q): what the cell says of the row, in bits. */
export function mutualInformationBits(
  chance: readonly number[],
  cells: readonly (readonly number[])[],
): number {
  const width = cells[0]?.length ?? 0
  let bits = 0
  for (let c = 0; c < width; c++) {
    const all = chance.reduce((sum, p, e) => sum + p * cells[e][c], 0)
    for (const [e, p] of chance.entries()) {
      const q = cells[e][c]
      if (p > 0 && q > 0) bits += p * q * Math.log2(q / all)
    }
  }
  return Math.max(0, bits)
}

export function entropyBits(chance: readonly number[]): number {
  return chance.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0)
}

/**
 * The bad joint is one of those that the first test could show, by the generator's shares and severities, on the drawn
 * network. A reading is of a pair from one of the plan's starting points to one of its points, with the kit's own
 * spread and the contacts of a first try; in cells, what joins them costs a little information.
 */
export function boundOf({ possible, shares, pairs, family: { kit } }: Scenario, typed: TypedSite): Bound {
  const { prepared } = typed
  const drawn = possible.address.flatMap((address, k) => {
    const edge = typed.edgeOf.get(address)
    const severities = edge === undefined || shares[k] === 0 ? [] : visibleSeverities(typed, edge)
    const seen = severities.reduce((sum, { share }) => sum + share, 0)
    return edge === undefined || seen === 0 ? [] : [{ edge, severities, seen, weight: shares[k] * seen }]
  })
  const total = drawn.reduce((sum, { weight }) => sum + weight, 0)
  const chance = drawn.map(({ weight }) => weight / total)
  const parts = [...new Set(pairs.flatMap(({ from, to }) => [from, to]))]
  let best = 0
  for (const from of new Set(pairs.map((pair) => pair.from))) {
    for (const to of parts) {
      if (to === from) continue
      const [a, b] = [nodeOf(prepared.network, from), nodeOf(prepared.network, to)]
      const { squared, networkOhm } = currentsSquared(prepared, a, b)
      const ends = cellEnds(kit, networkOhm)
      const cellsOf = (ohm: number) => {
        const cdf = [0, ...ends.map((end) => shownCdf(end, kit, ohm)), 1]
        return cdf.slice(1).map((value, c) => value - cdf[c])
      }
      const sound = cellsOf(networkOhm)
      const cells = drawn.map(({ edge, severities, seen }) => {
        if (squared[edge] < 1e-6) return sound
        const mixed = new Array<number>(sound.length).fill(0)
        for (const { addedOhm, share } of severities) {
          const rise = riseOhm(squared[edge], prepared.loopS[edge], addedOhm)
          for (const [c, q] of cellsOf(networkOhm + rise).entries()) mixed[c] += (share / seen) * q
        }
        return mixed
      })
      best = Math.max(best, mutualInformationBits(chance, cells))
    }
  }
  return { entropyBits: entropyBits(chance), bitsPerReading: best }
}

/**
 * Least number of readings until so many looks are enough: (H − log₂ looks) / bits per reading, after Fano (1961) for
 * lists; one reading at least, which every way begins with.
 */
export function leastReadings({ entropyBits: h, bitsPerReading }: Bound, looks: number): number {
  return Math.max(1, (h - Math.log2(Math.max(1, looks))) / bitsPerReading)
}
