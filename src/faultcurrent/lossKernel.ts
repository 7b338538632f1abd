import { equationsOf } from './equations.ts'
import type { Circuit } from './circuit.ts'
import { newton, roomFor } from './operatingPoint.ts'
import type { OperatingPoint } from './operatingPoint.ts'
import type { PortNetwork } from './portNetwork.ts'
import { sensitivityOf } from './sensitivity.ts'
import { splitPoint, type SplitPoint } from './splitNetwork.ts'

/** What the loss of one joint comes to. Filled anew for every joint. */
export interface Loss {
  /** Fault current left. */
  faultA: number
  /** Volts of the joint's first end above its second, once it is open. */
  gapV: number
  /** Currents into the ports. */
  readonly portA: Float64Array
}

/** Volts in the network, in parts of the source's, up to which what the circuit does about them counts as linear. */
const linearPart = 1e-6

/**
 * The loss of joint e, with i_q its current per ampere from port q to its base and c = g (1 − h) (`jointSweep.ts`): exactly,
 *
 *   Z' = Z + i iᵀ/c,     volts across the open joint = i · J'/c,
 *
 * and the circuit is solved anew on Z'. Where the volts are small beside the source's, one step of Newton's method does it,
 * written out: i · J' = i · J/(1 + iᵀ S i/c). A bridge parts the ports: each way of parting them is solved once.
 */
export function lossKernel(
  circuit: Circuit,
  network: PortNetwork,
  sound: OperatingPoint,
  soundPortA: Float64Array,
) {
  const { count } = network
  const ohm = network.ohm.slice()
  const changed = { ...network, ohm }
  const equations = equationsOf(circuit, changed)
  const room = roomFor(equations.size)
  const x = sound.x.slice()
  const { portS, faultS } = sensitivityOf(sound)
  const faultAt = circuit.nodeCount + circuit.faultLink
  const soundFaultA = sound.x[faultAt]
  const splits = new Map<number, SplitPoint>()
  const least = linearPart * equations.scaleV
  const loss: Loss = { faultA: 0, gapV: 0, portA: new Float64Array(count) }

  /** `i[q]` of this joint; c = 0 for a bridge. */
  const lose = (i: Float64Array, cS: number): Loss => {
    let alongA = 0
    let most = 0
    for (let q = 0; q < count; q++) {
      alongA += i[q] * soundPortA[q]
      most = Math.max(most, Math.abs(i[q]))
    }
    loss.portA.set(soundPortA)
    loss.faultA = Math.abs(soundFaultA)
    loss.gapV = 0
    if (most === 0) return loss
    if (cS === 0) return loseBridge(i)
    if (Math.abs(alongA / cS) * most <= least) return loseLittle(i, cS, alongA)
    for (let p = 0; p < count; p++) {
      for (let q = 0; q < count; q++) ohm[p * count + q] = network.ohm[p * count + q] + (i[p] * i[q]) / cS
    }
    x.set(sound.x)
    newton(equations, x, room)
    fillPorts(x)
    alongA = 0
    for (let q = 0; q < count; q++) alongA += i[q] * loss.portA[q]
    loss.gapV = alongA / cS
    loss.faultA = Math.abs(x[faultAt])
    return loss
  }

  const loseLittle = (i: Float64Array, cS: number, alongA: number): Loss => {
    let shunt = 0
    for (let p = 0; p < count; p++) {
      for (let q = 0; q < count; q++) shunt += i[p] * portS[p * count + q] * i[q]
    }
    const gapV = alongA / (cS + shunt)
    let faultA = soundFaultA
    for (let q = 0; q < count; q++) {
      faultA -= faultS[q] * i[q] * gapV
      for (let p = 0; p < count; p++) loss.portA[p] -= portS[p * count + q] * i[q] * gapV
    }
    loss.gapV = gapV
    loss.faultA = Math.abs(faultA)
    return loss
  }

  const loseBridge = (i: Float64Array): Loss => {
    let mask = 0
    let sense = 0
    for (let q = 0; q < count; q++) {
      if (i[q] === 0) continue
      mask |= 1 << q
      sense = i[q]
    }
    let split = splits.get(mask)
    if (!split) splits.set(mask, (split = splitPoint(circuit, network, mask, sound.x)))
    loss.portA.set(split.portA)
    loss.faultA = split.faultA
    loss.gapV = sense * split.gapV
    return loss
  }

  const fillPorts = (at: Float64Array) => {
    loss.portA.fill(0)
    circuit.links.forEach(({ ports }, l) => {
      for (const { at: p, weight } of ports) loss.portA[p] += weight * at[circuit.nodeCount + l]
    })
  }
  return lose
}
