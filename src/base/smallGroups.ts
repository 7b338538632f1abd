import { medianDeviation, median } from './orderStatistics.ts'
import { studentQuantile } from './studentT.ts'

/**
 * What the median absolute deviation (MAD) of n standard normal numbers is like, n from 3 to 30, by 200 000 to
 * 400 000 draws each (tests/base/smallGroups.test.ts draws again):
 * `bias`: 1.4826 · MAD · bias is σ on average; `upper5`, `upper1`: what the largest modified z of a sound group exceeds
 * in 5 and 1 % of groups; `either1`: the same on either side, 1 %; `degrees`, `meanLn`: ln MAD² has the variance of ln of a
 * chi-square with so many degrees, and this mean.
 */
const rows: readonly (readonly [
  bias: number,
  upper5: number,
  upper1: number,
  either1: number,
  degrees: number,
  meanLn: number,
])[] = [
  [1.487, 10.78, 55.02, 110.02, 0.933, -2.5158],
  [1.3601, 4.742, 11.21, 15.93, 1.806, -1.7941],
  [1.2164, 5.792, 13.74, 18.65, 1.748, -1.5888],
  [1.1907, 4.344, 8.05, 10.12, 2.56, -1.3911],
  [1.1372, 4.663, 8.63, 10.63, 2.536, -1.3019],
  [1.1274, 4.065, 6.71, 7.99, 3.29, -1.2149],
  [1.102, 4.218, 6.95, 8.22, 3.293, -1.1691],
  [1.0955, 3.891, 5.96, 6.9, 4.047, -1.1171],
  [1.0798, 3.984, 6.07, 7.03, 4.036, -1.0886],
  [1.0764, 3.797, 5.54, 6.3, 4.775, -1.0564],
  [1.0663, 3.835, 5.61, 6.41, 4.761, -1.0378],
  [1.0626, 3.676, 5.17, 5.86, 5.549, -1.0115],
  [1.0561, 3.73, 5.26, 5.92, 5.526, -0.9997],
  [1.0534, 3.627, 5.03, 5.6, 6.279, -0.9809],
  [1.0489, 3.676, 5.06, 5.65, 6.285, -0.9722],
  [1.0488, 3.609, 4.85, 5.39, 7.016, -0.9617],
  [1.0432, 3.63, 4.9, 5.44, 6.969, -0.9517],
  [1.0423, 3.564, 4.73, 5.22, 7.735, -0.9414],
  [1.0402, 3.613, 4.8, 5.28, 7.707, -0.9377],
  [1.0383, 3.539, 4.62, 5.1, 8.464, -0.927],
  [1.0356, 3.571, 4.68, 5.13, 8.496, -0.9216],
  [1.0351, 3.529, 4.56, 4.98, 9.21, -0.9153],
  [1.0311, 3.542, 4.57, 5.01, 9.231, -0.9074],
  [1.0323, 3.511, 4.49, 4.92, 9.925, -0.9053],
  [1.0306, 3.529, 4.53, 4.95, 9.973, -0.9018],
  [1.0292, 3.493, 4.45, 4.85, 10.721, -0.895],
  [1.0268, 3.514, 4.45, 4.86, 10.706, -0.8905],
  [1.0266, 3.501, 4.41, 4.79, 11.399, -0.8868],
]
const fewest = 3
const most = fewest + rows.length - 1

/** 1/Φ⁻¹(¾): turns the MAD of many normal numbers into their standard deviation. */
export const madToSd = 1.482602218505602

/** So many numbers a group needs before its own scatter says anything. */
export const fewestInGroup = fewest

function rowOf(count: number) {
  return rows[Math.min(Math.max(count, fewest), most) - fewest]
}

/** What 1.4826 · MAD is to be multiplied by so that it is σ on average. */
export function madBias(count: number): number {
  return count > most ? 1 + 0.8 / count : rowOf(count)[0]
}

/** Degrees of freedom that the MAD of a group is worth: some 0.37 (n − 1). */
export function madDegrees(count: number): number {
  return count > most ? (rowOf(most)[4] * (count - 1)) / (most - 1) : rowOf(count)[4]
}

/** Mean of ln MAD² of standard normal numbers. */
export function meanLnMadSquare(count: number): number {
  const limit = -2 * Math.log(madToSd)
  return count > most ? limit + ((rowOf(most)[5] - limit) * most) / count : rowOf(count)[5]
}

/**
 * Modified z-scores 0.6745 (x − median)/MAD (Iglewicz and Hoaglin 1993). A MAD below `leastMad` counts as that much, so
 * that numbers which are all alike do not make the next one infinitely far away.
 */
export function modifiedZ(values: ArrayLike<number>, leastMad = 0): Float64Array {
  const middle = median(values)
  const mad = Math.max(medianDeviation(values, middle), leastMad)
  return Float64Array.from(values, (x) => (x === middle ? 0 : (x - middle) / (madToSd * mad)))
}

/**
 * The modified z that the highest of `count` sound numbers exceeds in a share `rate` of groups. The fixed 3.5 of the book
 * flags something in 17 to 29 % of sound groups of three to five. Beyond 30 by Student's t, joined on at 30.
 */
export function highCutoff(count: number, rate: 0.05 | 0.01): number {
  const column = rate === 0.05 ? 1 : 2
  if (count <= most) return rowOf(count)[column]
  const at = (n: number) => studentQuantile(rate / n, madDegrees(n))
  const joint = rowOf(most)[column] / at(most)
  return at(count) * (1 - ((1 - joint) * most) / count)
}

/** The same for the number that is farthest from the median on either side, in 1 % of groups; up to 30 numbers. */
export function eitherCutoff(count: number): number {
  return rowOf(count)[3]
}
