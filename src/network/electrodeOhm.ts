import { assert } from '../base/assert.ts'
import { fail, ok } from '../base/result.ts'
import type { Result } from '../base/result.ts'

/** A rod or post driven from the surface down: the length that stands in soil and the radius, in metres. */
export interface Rod {
  readonly lengthM: number
  readonly radiusM: number
}

/** Upright rods and posts in one uniform soil; entry i of each array belongs to electrode i. Metres. */
export interface ElectrodeField {
  readonly xM: Float64Array
  readonly yM: Float64Array
  readonly lengthM: Float64Array
  readonly radiusM: Float64Array
}

/** Two electrodes of a field that stand in one another: in metal contact, so one electrode and not two. */
export interface OverlappingElectrodes {
  readonly first: number
  readonly second: number
}

/** Above this many electrodes the dense matrix is the wrong tool: far groups have to be lumped. */
export const maxCoupledElectrodes = 500

/**
 * Resistance to remote earth, in ohms, of one rod or post by Dwight (1936, "Calculation of resistances to
 * ground", AIEE Trans. 55, 1319–1328; also IEEE Std 142 and IEEE Std 80):
 *
 *     R = ρ/(2πL)·(ln(4L/a) − 1)
 *
 * the mean voltage along the rod when it gives off the same current from every metre. For a profile, a is
 * the radius of the circle with the perimeter of a string round it: at worst, for a flat strip (true value
 * a quarter of its width), that reads 5 to 7 % low.
 *
 * The end face is left out, so it is meant for L ≥ 5a. Below L ≈ 1.6a it is certainly too low: under the
 * half sphere that holds the whole rod. A length that makes it nothing or less (4L/a ≤ e) is a bug.
 */
export function rodOhm(rod: Rod, soilOhmM: number): number {
  assertRod(rod.lengthM, rod.radiusM)
  assertSoil(soilOhmM)
  return (soilOhmM * rodSelf(rod.lengthM, rod.radiusM)) / (2 * Math.PI)
}

/** Resistance to remote earth, in ohms, of a half sphere in the surface: R = ρ/(2πa). */
export function hemisphereOhm(radiusM: number, soilOhmM: number): number {
  assert(Number.isFinite(radiusM) && radiusM > 0, `an electrode cannot have a radius of ${radiusM} m`)
  assertSoil(soilOhmM)
  return soilOhmM / (2 * Math.PI * radiusM)
}

/**
 * Mutual resistance in ohms: the mean volts along one upright rod per ampere that the other gives off
 * evenly along itself, both starting at the surface, their axes `distanceM` apart. With
 * F(u) = u·asinh(u/d) − √(u² + d²) from integrating the point source 1/r and its image along both,
 *
 *     R₁₂ = ρ/(4πL₁L₂)·[F(L₁ + L₂) − F(L₁ − L₂)]
 *
 * which for equal rods is ρ/(2πL)·[asinh(2L/d) − √(1 + (d/2L)²) + d/(2L)]. Far away it is ρ/(2πd). Distances
 * below the larger radius count as that radius; there equal rods have Dwight's own value. It never exceeds
 * √(R₁₁R₂₂), which no pair of real electrodes can.
 */
export function mutualRodOhm(first: Rod, second: Rod, distanceM: number, soilOhmM: number): number {
  assertRod(first.lengthM, first.radiusM)
  assertRod(second.lengthM, second.radiusM)
  assertSoil(soilOhmM)
  assert(Number.isFinite(distanceM) && distanceM >= 0, `two electrodes cannot be ${distanceM} m apart`)
  const d = Math.max(distanceM, first.radiusM, second.radiusM)
  const selves = rodSelf(first.lengthM, first.radiusM) * rodSelf(second.lengthM, second.radiusM)
  return (soilOhmM * Math.min(rodMutual(first.lengthM, second.lengthM, d), Math.sqrt(selves))) / (2 * Math.PI)
}

/**
 * The n × n matrix of self and mutual resistances of a field, by rows: entry (i, j) is the volts of i to
 * remote earth per ampere into j. Symmetric and, since no two electrodes overlap, positive definite. Every
 * pair counts however far apart: cutting small mutuals off makes a pile field read several times too low.
 * O(n²) time, 8n² bytes. Fails with the first pair that overlaps; more than 500 electrodes is a bug.
 */
export function electrodeMatrixOhm(
  field: ElectrodeField,
  soilOhmM: number,
): Result<Float64Array, OverlappingElectrodes> {
  const { xM, yM, lengthM, radiusM } = field
  const n = xM.length
  assert(
    n === yM.length && n === lengthM.length && n === radiusM.length,
    'a field lists every electrode fully',
  )
  assert(n <= maxCoupledElectrodes, `${n} coupled electrodes are more than a dense matrix is meant for`)
  assertSoil(soilOhmM)
  const matrix = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    assertRod(lengthM[i], radiusM[i])
    matrix[i * n + i] = (soilOhmM * rodSelf(lengthM[i], radiusM[i])) / (2 * Math.PI)
    for (let j = 0; j < i; j++) {
      const d = Math.hypot(xM[i] - xM[j], yM[i] - yM[j])
      assert(Number.isFinite(d), `electrodes ${j} and ${i} have no distance`)
      if (d < radiusM[i] + radiusM[j]) return fail({ first: j, second: i })
      const ohm = (soilOhmM * rodMutual(lengthM[i], lengthM[j], d)) / (2 * Math.PI)
      matrix[i * n + j] = ohm
      matrix[j * n + i] = ohm
    }
  }
  return ok(matrix)
}

/**
 * Resistance to remote earth, in ohms, of a field whose electrodes are all at one voltage (joined by metal
 * of no resistance): 1/(1ᵀR⁻¹1). O(n³/6) time; errors as `electrodeMatrixOhm`.
 */
export function coupledElectrodesOhm(
  field: ElectrodeField,
  soilOhmM: number,
): Result<number, OverlappingElectrodes> {
  const groups = coupledGroupsOhm(field, new Int32Array(field.xM.length), 1, soilOhmM)
  return groups.ok ? ok(groups.value[0]) : groups
}

/**
 * Soil between groups of electrodes, each group at one voltage of its own: the k × k matrix Z = (EᵀR⁻¹E)⁻¹ by
 * rows, entry (p, q) the volts of group p to remote earth per ampere into group q. `group[i]` in 0 … k − 1 is the
 * group of electrode i; no group is empty. What soil alone reads between two groups is Z_pp + Z_qq − 2·Z_pq.
 * O(n³/6 + k·n²) time; errors as `electrodeMatrixOhm`.
 */
export function coupledGroupsOhm(
  field: ElectrodeField,
  group: Int32Array,
  groupCount: number,
  soilOhmM: number,
): Result<Float64Array, OverlappingElectrodes> {
  const n = field.xM.length
  assert(group.length === n, 'every electrode of a field needs a group')
  const matrix = electrodeMatrixOhm(field, soilOhmM)
  if (!matrix.ok) return matrix
  factorSymmetric(matrix.value, n)

  const conductance = new Float64Array(groupCount * groupCount)
  const column = new Float64Array(n)
  for (let q = 0; q < groupCount; q++) {
    for (let i = 0; i < n; i++) column[i] = group[i] === q ? 1 : 0
    assert(column.includes(1), `electrode group ${q} is empty`)
    solveFactored(matrix.value, n, column)
    for (let i = 0; i < n; i++) {
      assert(group[i] >= 0 && group[i] < groupCount, `electrode ${i} is in no group`)
      conductance[group[i] * groupCount + q] += column[i]
    }
  }

  factorSymmetric(conductance, groupCount)
  const resistance = new Float64Array(groupCount * groupCount)
  for (let q = 0; q < groupCount; q++) {
    const unit = resistance.subarray(q * groupCount, (q + 1) * groupCount)
    unit[q] = 1
    solveFactored(conductance, groupCount, unit)
  }
  return ok(resistance)
}

/** Dwight's bracket over the length, 1/m: R = ρ/(2π) times this. */
function rodSelf(lengthM: number, radiusM: number): number {
  return (Math.log((4 * lengthM) / radiusM) - 1) / lengthM
}

/**
 * 2π/ρ times the mutual resistance of two upright rods (`mutualRodOhm`, without its bounds):
 * [F(L₁ + L₂) − F(L₁ − L₂)]/(2L₁L₂) in 1/m, F shifted by the constant d and its root rationalised:
 * F(u) + d = d·(t·asinh t − t²/(1 + √(1 + t²))), t = u/d, which keeps its digits when d ≫ L.
 */
export function rodMutual(firstM: number, secondM: number, distanceM: number): number {
  return (
    (distanceM * (shifted((firstM + secondM) / distanceM) - shifted((firstM - secondM) / distanceM))) /
    (2 * firstM * secondM)
  )
}

function shifted(t: number): number {
  return t * Math.asinh(t) - (t * t) / (1 + Math.sqrt(1 + t * t))
}

/** Cholesky's A = CCᵀ in place: C takes the lower triangle by rows, the upper triangle is left as it was. */
function factorSymmetric(a: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = a[i * n + j]
      for (let k = 0; k < j; k++) rest -= a[i * n + k] * a[j * n + k]
      if (j < i) a[i * n + j] = rest / a[j * n + j]
      else {
        assert(rest > 0, `the resistance matrix of the electrodes is not positive definite at ${i}`)
        a[i * n + i] = Math.sqrt(rest)
      }
    }
  }
}

/** Replaces b by A⁻¹b with the factor that `factorSymmetric` left. */
function solveFactored(c: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let rest = b[i]
    for (let k = 0; k < i; k++) rest -= c[i * n + k] * b[k]
    b[i] = rest / c[i * n + i]
  }
  for (let i = n - 1; i >= 0; i--) {
    let rest = b[i]
    for (let k = i + 1; k < n; k++) rest -= c[k * n + i] * b[k]
    b[i] = rest / c[i * n + i]
  }
}

function assertRod(lengthM: number, radiusM: number): void {
  assert(Number.isFinite(lengthM) && lengthM > 0, `an electrode cannot be ${lengthM} m long`)
  assert(Number.isFinite(radiusM) && radiusM > 0, `an electrode cannot have a radius of ${radiusM} m`)
  assert(
    4 * lengthM > Math.E * radiusM,
    `an electrode ${lengthM} m long and ${radiusM} m in radius is no rod: its formula gives nothing or less`,
  )
}

function assertSoil(soilOhmM: number): void {
  assert(Number.isFinite(soilOhmM) && soilOhmM > 0, `soil cannot have a resistivity of ${soilOhmM} Ω·m`)
}
