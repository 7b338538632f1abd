/** So many items in each of so many tables. */
export interface TablesOf {
  readonly tables: number
  readonly each: number
}

/**
 * P(X ≤ most) where items of one table go bad together: the share of bad ones in a table is drawn from a beta
 * distribution with mean `share` and the correlation ρ between two items of a table, 0 < ρ < 1 (Skellam 1948, from
 * memory), a = share (1 − ρ)/ρ, b = (1 − share)(1 − ρ)/ρ. Tables are independent: the counts of all are folded
 * together, each cut off above `most`. O(most² log tables).
 */
export function betaBinomialAtMost(
  most: number,
  sizes: readonly TablesOf[],
  share: number,
  correlation: number,
): number {
  if (most < 0) return 0
  if (share === 0) return 1
  let counts = new Float64Array(most + 1)
  counts[0] = 1
  for (const { tables, each } of sizes) {
    counts = folded(counts, repeated(ofTable(most, each, share, correlation), tables))
  }
  return Math.min(
    1,
    counts.reduce((sum, chance) => sum + chance, 0),
  )
}

/** Chances of 0 … most bad ones among `each` items of a table. */
function ofTable(most: number, each: number, share: number, correlation: number): Float64Array<ArrayBuffer> {
  const a = (share * (1 - correlation)) / correlation
  const b = ((1 - share) * (1 - correlation)) / correlation
  const chances = new Float64Array(most + 1)
  let lnChance = 0
  // b / (a + b) as 1 − a / (a + b): exact where the share is small
  for (let k = 0; k < each; k++) lnChance += Math.log1p(-a / (a + b + k))
  for (let x = 0; x <= Math.min(most, each); x++) {
    chances[x] = Math.exp(lnChance)
    lnChance += Math.log(((each - x) / (x + 1)) * ((a + x) / (b + each - x - 1)))
  }
  return chances
}

function folded(one: Float64Array, other: Float64Array): Float64Array<ArrayBuffer> {
  const sums = new Float64Array(one.length)
  for (let i = 0; i < one.length; i++) {
    for (let j = 0; i + j < one.length; j++) sums[i + j] += one[i] * other[j]
  }
  return sums
}

/** Folds a distribution with itself, by squaring. */
function repeated(counts: Float64Array<ArrayBuffer>, times: number): Float64Array<ArrayBuffer> {
  let result = new Float64Array(counts.length)
  result[0] = 1
  let power = counts
  for (let left = times; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) result = folded(result, power)
    power = folded(power, power)
  }
  return result
}
