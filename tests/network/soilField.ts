import { wholly } from '../../src/base/portion.ts'
import type { BuriedPieces } from '../../src/network/buriedPieces.ts'
import { coupledGroupsOhm, rodOhm } from '../../src/network/electrodeOhm.ts'
import type { ElectrodeField } from '../../src/network/electrodeOhm.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { coupleElectrodes } from '../../src/network/soilNetwork.ts'
import type { SoilNetwork } from '../../src/network/soilNetwork.ts'
import { prepareSolver } from '../../src/network/solver.ts'

export interface PlacedRod {
  readonly x: number
  readonly y: number
  readonly lengthM: number
  readonly radiusM: number
}

export const post = { lengthM: 1.75, radiusM: 0.06 }

/** `rows` × `posts` posts; the one pitch between rows, the other along them. */
export function postRows(rows: number, posts: number, rowM: number, postM: number): PlacedRod[] {
  return Array.from({ length: rows * posts }, (_, k) => ({
    x: (k % posts) * postM,
    y: Math.floor(k / posts) * rowM,
    ...post,
  }))
}

/** Every rod one piece; `aloneOhm` in soil of 1 Ω·m where it is not that of the rod's form. */
export function piecesOf(
  rods: readonly PlacedRod[],
  rowPitchM: number | null = null,
  alone?: number,
): BuriedPieces {
  const field = fieldOf(rods)
  const selfPerM = Float64Array.from(rods, (rod) => alone ?? rodOhm(rod, 1))
  return {
    count: rods.length,
    pieceStart: Int32Array.from({ length: rods.length + 1 }, (_, k) => k),
    alonePerM: selfPerM,
    selfPerM,
    ...field,
    rowPitchM,
  }
}

export function fieldOf(rods: readonly PlacedRod[]): ElectrodeField {
  return {
    xM: Float64Array.from(rods, ({ x }) => x),
    yM: Float64Array.from(rods, ({ y }) => y),
    lengthM: Float64Array.from(rods, ({ lengthM }) => lengthM),
    radiusM: Float64Array.from(rods, ({ radiusM }) => radiusM),
  }
}

export const coupled = (pieces: BuriedPieces): SoilNetwork => wholly(coupleElectrodes(pieces))

/** All joined to remote earth, and group 1 against the rest, by the network of branches. */
export function networkReads(
  soil: SoilNetwork,
  isApart: readonly boolean[],
): { total: number; between: number } {
  const earth = soil.nodeCount
  const node = (at: number) => (at < 0 ? earth : at)
  const read = (from: number, to: number, isJoined: boolean) => {
    const a = [...soil.from]
    const b = Array.from(soil.to, node)
    const s = Array.from(soil.perM, (ohm) => 1 / ohm)
    isApart.forEach((apart, k) => {
      a.push(earth + (apart ? 2 : 1))
      b.push(node(soil.at[k]))
      s.push(1 / soil.ownPerM[k])
    })
    if (isJoined || !isApart.includes(true)) {
      a.push(earth + 1)
      b.push(earth + 2)
      s.push(1e6)
    }
    const graph = { nodeCount: earth + 3, from: Int32Array.from(a), to: Int32Array.from(b) }
    const { factor } = wholly(
      prepareSolver(graph, Float64Array.from(s), new Int32Array(earth + 3), Int32Array.of(earth)),
    )
    return pairResistance(factor, from, to)
  }
  return { total: read(earth + 1, earth, true), between: read(earth + 1, earth + 2, false) }
}

/** The same by the dense matrix. */
export function matrixReads(
  rods: readonly PlacedRod[],
  isApart: readonly boolean[],
): { total: number; between: number } {
  const group = Int32Array.from(isApart, (apart) => (apart ? 1 : 0))
  const groups = isApart.includes(true) ? 2 : 1
  const one = coupledGroupsOhm(fieldOf(rods), new Int32Array(rods.length), 1, 1)
  const z = coupledGroupsOhm(fieldOf(rods), group, groups, 1)
  if (!one.ok || !z.ok) throw new Error('electrodes overlap')
  const between = groups === 2 ? z.value[0] + z.value[3] - 2 * z.value[1] : 0
  return { total: one.value[0], between }
}

/** What a single electrode reads to remote earth while nothing is joined to anything. */
export function aloneReads(soil: SoilNetwork, k: number): number {
  const earth = soil.nodeCount
  const graph = {
    nodeCount: earth + 1,
    from: soil.from,
    to: soil.to.map((at) => (at < 0 ? earth : at)),
  }
  const siemens = soil.perM.map((ohm) => 1 / ohm)
  const { factor } = wholly(prepareSolver(graph, siemens, new Int32Array(earth + 1), Int32Array.of(earth)))
  return soil.ownPerM[k] + pairResistance(factor, soil.at[k], earth)
}
