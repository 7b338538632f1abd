import { choleskyInPlace } from '../base/symmetric.ts'
import { gainSd } from '../reading/kitError.ts'
import { isOnClampedLoop } from './clampedLoop.ts'
import { logSpoiledOf, type Measurement, type PreparedLevel, type Stated } from './evidence.ts'
import { riseLnSd, soilSlopePerOhm } from './hypothesis.ts'
import type { LevelModel } from './levelModel.ts'
import { severityCellLnSd } from './severities.ts'

/**
 * All severities of one candidate at one soil level. With v the squared shares of the readings' currents that cross it,
 * every one raises the readings by s·v, s = 1 / (1/ρ + c). Residual and columns of uncertainty under each are then
 * combinations of few vectors x, which are multiplied by the level's precision B once per candidate:
 *
 *   residual    r − s v
 *   soil        a + ½-step slope of s v, from v and its differences to the levels beside
 *   severity    s·spread·v
 *   gain        g (N + s v), per instrument
 *
 * r, a, N: residual, soil column and ohms of a sound array. With C the columns, I + CᵀBC = L Lᵀ (Woodbury 1950):
 *
 *   W = B − U Uᵀ,  U = B C L⁻ᵀ,   ln det grows by 2 Σ ln L_kk
 *   W (r − s v) = B r − U z,      L z = CᵀB r + e/spread          (e: the column along v)
 *
 * the last without s v, so that nothing large is taken from something large. Vectors are by finite reading, zero where
 * nothing joins the two ends.
 */
export interface SeverityFamily {
  readonly level: PreparedLevel
  readonly beside: readonly [LevelModel, LevelModel]
  readonly measurement: Measurement
  /** Rows: residual, soil, ohms per kit, then for the candidate shares per kit, and their differences. */
  readonly x: Float64Array
  /** B times each row. */
  readonly product: Float64Array
  /** xᵀ B x. */
  readonly gram: Float64Array
  /** By observation: ohms of a sound array, 0 where nothing joins the two, and what soil makes of them. */
  readonly soundOhm: Float64Array
  readonly soundSoilOhm: Float64Array
  /** Of the candidate, by observation: shares, here and above less below. */
  readonly share: Float64Array
  readonly above: Float64Array
  readonly below: Float64Array
  candidate: number
  /** Whether the candidate is on the loop of a loop reading, which it moves along another direction. */
  isOnLoop: boolean
  /** Per column of uncertainty its combination of the rows. */
  readonly columns: Float64Array
  readonly columnGram: Float64Array
  readonly combined: Float64Array
  readonly solved: Float64Array
  readonly stated: Stated & { readonly soilOhm: Float64Array }
  readonly less: readonly Float64Array[]
}

const residualRow = 0
const soilRow = 1
const ohmRow = 2
const soilColumnAt = 0
const alongColumn = 1
const gainColumn = 2

/** Arrays for the candidates at one soil level; residual, soil and gain of a sound array are worked out. */
export function severityFamily(
  models: readonly LevelModel[],
  at: number,
  level: PreparedLevel,
  measurement: Measurement,
): SeverityFamily {
  const { observations, kits, kitOf, addedMeanOhm } = measurement
  const n = observations.length
  const { finite } = level
  const m = finite.length
  const rows = ohmRow + 2 * kits.length + 2
  const columnCount = gainColumn + kits.length
  const beside = [models[Math.max(0, at - 1)], models[Math.min(models.length - 1, at + 1)]] as const
  const slope = soilSlopePerOhm(...beside)
  const { networkOhm } = level.model
  const soundOhm = networkOhm.map((ohm) => (Number.isFinite(ohm) ? ohm : 0))
  const soundSoilOhm = beside[1].networkOhm.map((ohm, p) => {
    const difference = ohm - beside[0].networkOhm[p]
    return Number.isFinite(difference) ? difference * slope : 0
  })
  const x = new Float64Array(rows * m)
  const mustSpoil = new Uint8Array(m)
  finite.forEach((p, i) => {
    const known = Number.isFinite(networkOhm[p])
    mustSpoil[i] = known ? 0 : 1
    x[residualRow * m + i] = known ? (observations[p].ohm ?? 0) - (networkOhm[p] + addedMeanOhm[p]) : 0
    x[soilRow * m + i] = soundSoilOhm[p]
    x[(ohmRow + kitOf[p]) * m + i] = soundOhm[p]
  })
  const less = Array.from({ length: columnCount }, () => new Float64Array(m))
  const family: SeverityFamily = {
    level,
    beside,
    measurement,
    x,
    product: new Float64Array(rows * m),
    gram: new Float64Array(rows * rows),
    soundOhm,
    soundSoilOhm,
    share: new Float64Array(n),
    above: new Float64Array(n),
    below: new Float64Array(n),
    candidate: -1,
    isOnLoop: false,
    columns: new Float64Array(columnCount * rows),
    columnGram: new Float64Array(columnCount * columnCount),
    combined: new Float64Array(rows),
    solved: new Float64Array(columnCount),
    less,
    stated: {
      level,
      measurement,
      predictedOhm: new Float64Array(n),
      sdOhm: new Float64Array(n),
      soilOhm: new Float64Array(n),
      states: {
        count: m,
        precision: { size: m, base: level.precision.base, less },
        logDeterminant: 0,
        residualOhm: new Float64Array(m),
        weighted: new Float64Array(m),
        logTaken: level.logTaken,
        logSpoiled: new Float64Array(m),
        mustSpoil,
      },
    },
  }
  multiplyRows(family, 0, ohmRow + kits.length)
  return family
}

/** B x and xᵀ B x of rows `first` … `end` − 1, with the rows before them too. O(n² rows), less where x has zeros. */
function multiplyRows({ x, product, gram, level }: SeverityFamily, first: number, end: number): void {
  const m = level.finite.length
  const { base } = level.precision
  const rows = Math.sqrt(gram.length)
  for (let r = first; r < end; r++) {
    const at = r * m
    product.fill(0, at, at + m)
    let i = nextEntry(x, at, 0, m)
    while (i < m) {
      const j = nextEntry(x, at, i + 1, m)
      const xi = x[at + i]
      const xj = j < m ? x[at + j] : 0
      const rowI = i * m
      const rowJ = (j < m ? j : i) * m
      for (let k = 0; k < m; k++) product[at + k] += base[rowI + k] * xi + base[rowJ + k] * xj
      i = nextEntry(x, at, j + 1, m)
    }
    for (let s = 0; s <= r; s++) {
      let sum = 0
      for (let k = 0, other = s * m; k < m; k++) sum += product[at + k] * x[other + k]
      gram[r * rows + s] = sum
      gram[s * rows + r] = sum
    }
  }
}

function nextEntry(x: Float64Array, at: number, from: number, m: number): number {
  let i = from
  while (i < m && x[at + i] === 0) i++
  return i
}

/** Makes it the family of another candidate. O(n² instruments). */
export function turnTo(family: SeverityFamily, candidate: number): void {
  if (family.candidate === candidate) return
  family.candidate = candidate
  const { level, beside, measurement, x, share, above, below } = family
  const { kits, kitOf } = measurement
  const { finite } = level
  family.isOnLoop = [level.model, ...beside].some((model) => isOnClampedLoop(model, candidate))
  if (family.isOnLoop) return
  const n = share.length
  const m = finite.length
  for (let p = 0, at = candidate * n; p < n; p++, at++) {
    share[p] = level.model.squared[at]
    above[p] = beside[1].squared[at] - share[p]
    below[p] = share[p] - beside[0].squared[at]
  }
  const shareRow = ohmRow + kits.length
  const differenceRow = shareRow + kits.length
  x.fill(0, shareRow * m, differenceRow * m)
  for (let i = 0; i < m; i++) {
    const p = finite[i]
    x[(shareRow + kitOf[p]) * m + i] = share[p]
    x[differenceRow * m + i] = above[p]
    x[(differenceRow + 1) * m + i] = below[p]
  }
  multiplyRows(family, shareRow, differenceRow + 2)
}

/**
 * The readings under one severity, in arrays that the next call overwrites; null where it leaves no path between the
 * ends of some reading, or where the candidate is on the loop of a loop reading. O(n columns).
 */
export function stateSeverity(
  family: SeverityFamily,
  addedOhm: number,
  stretchLnSd = severityCellLnSd,
): (Stated & { readonly soilOhm: Float64Array }) | null {
  const { level, beside, measurement, candidate, columns, stated } = family
  const { kits } = measurement
  if (family.isOnLoop) return null
  const c = level.model.loopS[candidate]
  const raised = 1 / (1 / addedOhm + c)
  const raisedBelow = 1 / (1 / addedOhm + beside[0].loopS[candidate])
  const raisedAbove = 1 / (1 / addedOhm + beside[1].loopS[candidate])
  if (!(raised < Infinity && raisedBelow < Infinity && raisedAbove < Infinity)) return null
  const spread = riseLnSd(c, addedOhm, stretchLnSd)
  const slope = soilSlopePerOhm(...beside)
  const onShare = slope * (raisedAbove - raisedBelow)
  const onAbove = slope * raisedAbove
  const onBelow = slope * raisedBelow

  const rows = family.combined.length
  const shareRow = ohmRow + kits.length
  const differenceRow = shareRow + kits.length
  columns.fill(0)
  columns[soilColumnAt * rows + soilRow] = 1
  columns[soilColumnAt * rows + differenceRow] = onAbove
  columns[soilColumnAt * rows + differenceRow + 1] = onBelow
  for (let kit = 0; kit < kits.length; kit++) {
    const gain = gainSd(kits[kit])
    columns[soilColumnAt * rows + shareRow + kit] = onShare
    columns[alongColumn * rows + shareRow + kit] = raised * spread
    columns[(gainColumn + kit) * rows + ohmRow + kit] = gain
    columns[(gainColumn + kit) * rows + shareRow + kit] = gain * raised
  }
  const logDeterminant = level.logDeterminant + widenAll(family, spread)
  predict(family, raised, spread, onShare, onAbove, onBelow)
  return { ...stated, states: { ...stated.states, logDeterminant } }
}

/** U and W (r − s v), from the combinations; returns by how much ln det grows. */
function widenAll(family: SeverityFamily, spread: number): number {
  const { product, gram, columns, columnGram, combined, solved, less, stated } = family
  const rows = combined.length
  const count = solved.length
  const m = stated.states.count
  for (let a = 0; a < count; a++) {
    const u = less[a]
    u.fill(0)
    combined.fill(0)
    for (let r = 0; r < rows; r++) {
      const part = columns[a * rows + r]
      if (part === 0) continue
      for (let s = 0; s < rows; s++) combined[s] += part * gram[r * rows + s]
      for (let i = 0, at = r * m; i < m; i++, at++) u[i] += part * product[at]
    }
    solved[a] = combined[residualRow] + (a === alongColumn ? 1 / spread : 0)
    for (let b = 0; b < count; b++) {
      let sum = a === b ? 1 : 0
      for (let s = 0; s < rows; s++) sum += combined[s] * columns[b * rows + s]
      columnGram[a * count + b] = sum
    }
  }
  choleskyInPlace(columnGram, count)
  const weighted = stated.states.weighted ?? new Float64Array(0)
  for (let i = 0, at = residualRow * m; i < m; i++, at++) weighted[i] = product[at]
  let logDeterminant = 0
  for (let a = 0; a < count; a++) {
    const u = less[a]
    let z = solved[a]
    for (let b = 0; b < a; b++) {
      const factor = columnGram[a * count + b]
      if (factor === 0) continue
      z -= factor * solved[b]
      const before = less[b]
      for (let i = 0; i < m; i++) u[i] -= factor * before[i]
    }
    const pivot = columnGram[a * count + a]
    const inverse = 1 / pivot
    z *= inverse
    solved[a] = z
    logDeterminant += 2 * Math.log(pivot)
    for (let i = 0; i < m; i++) {
      u[i] *= inverse
      weighted[i] -= u[i] * z
    }
  }
  return logDeterminant
}

/** Predictions, spreads, residuals and what spoiled readings would be. */
function predict(
  family: SeverityFamily,
  raised: number,
  spread: number,
  onShare: number,
  onAbove: number,
  onBelow: number,
): void {
  const { level, measurement, soundOhm, soundSoilOhm, share, above, below, x, stated } = family
  const { predictedOhm, sdOhm, soilOhm, states } = stated
  const { kits, kitOf, addedMeanOhm } = measurement
  const { networkOhm } = level.model
  for (let p = 0; p < share.length; p++) {
    const rise = raised * share[p]
    const soil = soundSoilOhm[p] + onShare * share[p] + onAbove * above[p] + onBelow * below[p]
    const along = spread * rise
    const gain = gainSd(kits[kitOf[p]]) * (soundOhm[p] + rise)
    soilOhm[p] = soil
    predictedOhm[p] = networkOhm[p] + addedMeanOhm[p] + rise
    sdOhm[p] = Math.sqrt(level.varianceOhm2[p] + soil * soil + along * along + gain * gain)
  }
  const { finite } = level
  for (let i = 0; i < finite.length; i++) {
    const p = finite[i]
    const rise = raised * share[p]
    states.residualOhm[i] = x[residualRow * finite.length + i] - rise
    states.logSpoiled[i] = logSpoiledOf(level, measurement, p, predictedOhm[p], rise, sdOhm[p])
  }
}
