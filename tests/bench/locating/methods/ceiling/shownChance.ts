import { normalCdf } from '../../../../../src/base/normal.ts'
import type { Kit } from '../../../../../src/model/schema/record.ts'
import { contact } from '../../../../generator/assumedValues.ts'

/** Distribution function of what two clips add, poor at this rate; what is over range never comes. */
function contactCdf(poorRate: number): (ohm: number) => number {
  const { medianOhm, lnSpread, highShare, highFromOhm, highToOhm, poorMedianOhm, poorLnSpread } = contact
  const sound = (x: number) => (x <= 0 ? 0 : normalCdf(Math.log(x / medianOhm) / lnSpread))
  const poor = (x: number) => {
    if (x <= 0) return 0
    const high = Math.log(x / highFromOhm) / Math.log(highToOhm / highFromOhm)
    return (
      (highShare / 2) * Math.min(1, Math.max(0, high)) +
      (1 - highShare) * normalCdf(Math.log(x / poorMedianOhm) / poorLnSpread)
    )
  }
  // middles of ten equal shares of the sound contact that a poor one comes on top of
  const z = [-1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645]
  const under = z.map((each) => medianOhm * Math.exp(lnSpread * each))
  return (x) =>
    (1 - poorRate) * sound(x) + (poorRate * under.reduce((sum, c) => sum + poor(x - c), 0)) / under.length
}

/** Chances of what a display shows, by how far that lies above what the network and the lead come to. */
export interface ShownChance {
  /** Of the cell of the display whose middle is so far above. */
  cell(aboveOhm: number): number
  /** Of a zero, which stands for all below it, too. */
  zero(aboveOhm: number): number
  /** Of over range, where the range ends so far above. */
  over(aboveOhm: number): number
}

const linearTo = 1
const logPoints = 160
const logTo = 2000

/** Values of a function by a table: even steps up to 1 ohm, then even ratios; straight lines between. */
function tabled(fromOhm: number, stepOhm: number, value: (x: number) => number): (x: number) => number {
  const even = Float64Array.from({ length: Math.ceil((linearTo - fromOhm) / stepOhm) + 2 }, (_, k) =>
    value(fromOhm + k * stepOhm),
  )
  const lnStep = Math.log(logTo / linearTo) / logPoints
  const ratio = Float64Array.from({ length: logPoints + 2 }, (_, k) => value(linearTo * Math.exp(k * lnStep)))
  const between = (table: Float64Array, at: number) => {
    const k = Math.min(Math.floor(at), table.length - 2)
    return table[k] + (at - k) * (table[k + 1] - table[k])
  }
  return (x) => {
    if (x < linearTo) return between(even, Math.max(0, x - fromOhm) / stepOhm)
    return between(ratio, Math.min(logPoints + 1, Math.log(x / linearTo) / lnStep))
  }
}

const kept = new Map<string, ShownChance>()
const digitSteps = 48

/** For a two-wire kit whose errors are even within ± digits, and whose clips are poor at this rate. */
export function shownChance(kit: Kit, poorRate: number): ShownChance {
  const key = `${kit.id} ${poorRate}`
  const known = kept.get(key)
  if (known) return known
  const cdf = contactCdf(poorRate)
  const bound = kit.digits * kit.resolutionOhm
  const half = kit.resolutionOhm / 2
  const averaged = (x: number) => {
    let sum = 0
    for (let k = 0; k < digitSteps; k++) sum += cdf(x + bound * ((2 * k + 1) / digitSteps - 1))
    return sum / digitSteps
  }
  const fromOhm = -bound - half - 0.005
  const step = kit.resolutionOhm / 5
  const chance = {
    cell: tabled(fromOhm, step, (x) => Math.max(0, averaged(x + half) - averaged(x - half))),
    zero: tabled(fromOhm, step, (x) => averaged(x + half)),
    over: tabled(fromOhm, step, (x) => Math.max(0, 1 - averaged(x))),
  }
  kept.set(key, chance)
  return chance
}
