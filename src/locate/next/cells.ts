/** Cells within `nearSds` of a prediction are this share of its spread wide. */
const nearShare = 0.25
const nearSds = 6
/** Beyond, they grow by this share of the distance. */
const growth = 0.1

/** A prediction that the cells have to resolve. */
export interface Peak {
  readonly meanOhm: number
  readonly sdOhm: number
}

/**
 * Upper ends of the cells that the readings of an instrument are sorted into, ascending, the last at the end of its
 * range: fine about every prediction and geometrically wider between and beyond them,
 *
 *   step(y) = least over peaks of  σ/4 + (|y − μ| − 6σ)⁺ / 10
 *
 * The first cell has no lower end. O(cells × peaks).
 */
export function cellEnds(peaks: readonly Peak[], mostOhm: number): Float64Array {
  const finite = peaks.filter(({ meanOhm }) => meanOhm < mostOhm)
  if (finite.length === 0) return Float64Array.of(mostOhm)
  let y = finite.reduce((least, { meanOhm, sdOhm }) => Math.min(least, meanOhm - nearSds * sdOhm), Infinity)
  const ends: number[] = []
  while (y < mostOhm) {
    ends.push(y)
    let step = Infinity
    for (const { meanOhm, sdOhm } of finite) {
      const beyond = Math.abs(y - meanOhm) - nearSds * sdOhm
      step = Math.min(step, nearShare * sdOhm + (beyond > 0 ? growth * beyond : 0))
    }
    y += step
  }
  ends.push(mostOhm)
  return Float64Array.from(ends)
}
