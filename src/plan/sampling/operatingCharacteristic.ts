/** Chance that a lot is accepted, by the share of it that is bad. */
export type Acceptance = (share: number) => number

export interface CurvePoint {
  readonly share: number
  readonly accepted: number
}

/** The curve is drawn at so many steps at most, up to where it is as good as 0. */
const steps = 40
const asGoodAsNever = 0.002

/** The operating characteristic of a sample: at 0, then at as many shares of the lot as make a curve, each one possible. */
export function operatingCurve(acceptance: Acceptance, items: number): readonly CurvePoint[] {
  const end = leastBad(acceptance, items, asGoodAsNever)
  const step = Math.max(1, Math.ceil(end / steps))
  const points: CurvePoint[] = []
  for (let bad = 0; bad < end + step && bad <= items; bad += step) {
    points.push({ share: bad / items, accepted: acceptance(bad / items) })
  }
  return points
}

/** The largest share of a lot of `items` that is still accepted with at least this chance (a producer's view). */
export function acceptedShare(acceptance: Acceptance, items: number, chance: number): number {
  return (leastBad(acceptance, items, chance) - 1) / items
}

/** The smallest share that is accepted with at most this chance (a consumer's view); null where even all bad is not. */
export function refusedShare(acceptance: Acceptance, items: number, chance: number): number | null {
  const bad = leastBad(acceptance, items, chance)
  return bad > items || acceptance(bad / items) > chance ? null : bad / items
}

/** The smallest number of bad items that is accepted with less than this chance, items + 1 where none is. By halving. */
function leastBad(acceptance: Acceptance, items: number, chance: number): number {
  let [low, high] = [0, items + 1]
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (acceptance(middle / items) >= chance) low = middle
    else high = middle
  }
  return high
}
