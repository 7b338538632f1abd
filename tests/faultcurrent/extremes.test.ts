import { expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { operatingPoint, portCurrentsA } from '../../src/faultcurrent/operatingPoint.ts'
import type { PortNetwork } from '../../src/faultcurrent/portNetwork.ts'
import { acAt, pvAt, string, withSource } from './circuitOf.ts'

/** Ports in one piece or two, on a star of arms whose ohms spread over many decades. */
function star(random: { uniform: () => number; integer: (n: number) => number }, count: number): PortNetwork {
  const arm = Array.from({ length: count }, () => 10 ** (9 * random.uniform() - 6))
  const isApart = random.uniform() < 0.3
  const island = arm.map((_, p): number => (isApart && p === 0 ? 1 : 0))
  const islandCount = isApart && count > 1 ? 2 : 1
  if (islandCount === 1) island.fill(0)
  const base = [0, 1].map((i) => island.indexOf(i))
  const ohm = new Float64Array(count * count)
  for (let p = 0; p < count; p++) {
    for (let q = 0; q < count; q++) {
      const b = base[island[p]]
      if (island[p] !== island[q] || p === b || q === b) continue
      ohm[p * count + q] = arm[b] + (p === q ? arm[p] : 0)
    }
  }
  return { count, islandCount, island, ohm }
}

it('any source within what a drawing may hold has an operating point, and its currents sum to nothing', () => {
  const random = randomStream(78)
  const spread = (low: number, high: number) => low * (high / low) ** random.uniform()
  for (let k = 0; k < 3000; k++) {
    const modules = 1 + random.integer(100)
    const part = () => random.integer(4)
    const second = k % 3 === 0 ? part() : null
    const drive = withSource(
      {
        ...string,
        moduleFromNegative: random.integer(modules + 1),
        earthingOhm: random.uniform() < 0.3 ? 0 : spread(1e-6, 1e6),
        insulationOhm: random.uniform() < 0.3 ? Infinity : spread(1e-3, 1e12),
        light: spread(1e-6, 1.5),
        second:
          second === null
            ? null
            : { part: '', moduleFromNegative: random.integer(modules + 1), sameString: k % 2 === 0 },
      },
      {
        modulesInSeries: modules,
        stringsInParallel: 2 + random.integer(9999),
        openCircuitV: spread(1e-3, 1e5),
        shortCircuitA: spread(1e-3, 1e6),
        referencing: (['earthedNegative', 'earthedPositive', 'transformerless', 'floating'] as const)[k % 4],
      },
    )
    const circuit =
      k % 10 === 9
        ? acAt(spread(1e-3, 1e5), spread(1e-6, 1e4), part(), part())
        : pvAt(drive, part(), part(), second)
    const network = star(random, circuit.portParts.length)
    const point = operatingPoint(circuit, network)
    for (const x of point.x) expect(Number.isFinite(x)).toBe(true)
    const portA = portCurrentsA(point)
    for (let i = 0; i < network.islandCount; i++) {
      const into = portA.filter((_, p) => network.island[p] === i)
      const sum = into.reduce((total, amp) => total + amp, 0)
      expect(Math.abs(sum)).toBeLessThan(1e-9 * point.equations.scaleA)
    }
  }
})
