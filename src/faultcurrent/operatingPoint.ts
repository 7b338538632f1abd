import { assert } from '../base/assert.ts'
import { solveDense } from './denseSolve.ts'
import { equationsOf, jacobianAt, residualsAt } from './equations.ts'
import type { Equations } from './equations.ts'
import type { Circuit } from './circuit.ts'
import type { PortNetwork } from './portNetwork.ts'

/** Where the curves of a circuit and the resistances of the network meet. */
export interface OperatingPoint {
  readonly equations: Equations
  /** Volts of nodes, amperes of links, volts of the islands' bases. */
  readonly x: Float64Array
}

/** Residuals, in parts of the circuit's own volts and amperes, at which Newton's method has arrived: rounding leaves 1e-15. */
const arrived = 1e-13
const mostSteps = 200

/**
 * Solves the circuit by Newton's method. A step that would not lessen the residuals is halved until it does: the currents of
 * modules fall and those of resistances rise with their volts, so that the circuit has one solution and every Newton step
 * leads down (Ortega and Rheinboldt 1970, "Iterative solution of nonlinear equations in several variables", on damped
 * Newton methods). Starts at `start`, or with nothing flowing.
 */
export function operatingPoint(circuit: Circuit, network: PortNetwork, start?: Float64Array): OperatingPoint {
  const equations = equationsOf(circuit, network)
  const x = start?.slice() ?? withoutCurrent(equations)
  newton(equations, x, roomFor(equations.size))
  return { equations, x }
}

/** Arrays that a Newton method works in. */
export interface NewtonRoom {
  readonly f: Float64Array
  readonly step: Float64Array
  readonly tried: Float64Array
  readonly a: Float64Array
}

export function roomFor(size: number): NewtonRoom {
  return {
    f: new Float64Array(size),
    step: new Float64Array(size),
    tried: new Float64Array(size),
    a: new Float64Array(size * size),
  }
}

/** Moves x to the solution. */
export function newton(equations: Equations, x: Float64Array, room: NewtonRoom): void {
  const { size } = equations
  const { f, step, tried, a } = room
  residualsAt(equations, x, f)
  let left = largest(f)
  for (let k = 0; k < mostSteps && left > 0; k++) {
    jacobianAt(equations, x, a)
    for (let i = 0; i < size; i++) step[i] = -f[i]
    solveDense(a, step, size)
    let share = 1
    let after = Infinity
    for (; share > 1e-9; share /= 2) {
      for (let i = 0; i < size; i++) tried[i] = x[i] + share * step[i]
      residualsAt(equations, tried, f)
      after = largest(f)
      if (after < left || after <= arrived) break
    }
    // rounding is all that is left, or nothing leads further
    if (!(after < left)) break
    x.set(tried)
    const isDone = after <= arrived && left <= 1e-6
    left = after
    if (isDone) break
  }
  if (!(left <= 1e-9)) assert(false, `a circuit was not solved: ${left} of its scale is left`)
}

function largest(f: Float64Array): number {
  let most = 0
  for (let i = 0; i < f.length; i++) {
    const size = Math.abs(f[i])
    if (!(size <= most)) most = size
  }
  return most
}

/** Every string at its open-circuit volts, its volts spread evenly over its modules. */
function withoutCurrent({ circuit, size }: Equations): Float64Array {
  const x = new Float64Array(size)
  const { module, segments } = circuit
  const isKnown = new Uint8Array(circuit.nodeCount)
  isKnown[0] = 1
  for (let round = 0; round < circuit.nodeCount; round++) {
    for (const { from, to, modules } of segments) {
      const volt = modules * module!.openCircuitV * module!.light
      if (isKnown[from] === 1 && isKnown[to] === 0) x[to] = x[from] + volt
      else if (isKnown[to] === 1 && isKnown[from] === 0) x[from] = x[to] - volt
      else continue
      isKnown[from] = isKnown[to] = 1
    }
  }
  return x
}

/** Amperes that a solved circuit brings into each port. */
export function portCurrentsA({ equations, x }: OperatingPoint): Float64Array {
  const { circuit, network } = equations
  const into = new Float64Array(network.count)
  circuit.links.forEach(({ ports }, l) => {
    for (const { at, weight } of ports) into[at] += weight * x[circuit.nodeCount + l]
  })
  return into
}
