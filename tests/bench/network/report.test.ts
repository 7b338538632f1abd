import { describe, expect, it } from 'vitest'
import type { PeerRounds } from './peerRounds.ts'
import { formatSeconds, growthTable, peerTable, reachTable } from './report.ts'
import type { Rounds } from './rounds.ts'
import { stages, type Stage, type StageTimes } from './stages.ts'

function roundsOf(joints: number, times: (stage: Stage) => number[]): Rounds {
  const seconds = Object.fromEntries(stages.map((stage) => [stage, times(stage)])) as unknown as StageTimes
  const first = {
    joints,
    edges: joints,
    nodes: joints / 2,
    entries: 2 * joints,
    readings: 50,
    fosterDefect: 1e-16,
    largestRiseOhm: 1,
    seconds,
    processorSeconds: seconds,
  }
  return { first, seconds, processorSeconds: seconds }
}

const peersWith = (oursS: number[], theirsS: number[]): PeerRounds => ({
  unknowns: 1000,
  ours: { prepareS: oursS, solveS: [0.01] },
  firstS: 5,
  peers: [{ peer: 'X', prepareS: theirsS, solveS: [0.02], disagreement: 1e-12 }],
})

describe('seconds', () => {
  it('are told in a unit that suits them', () => {
    expect([4.2e-6, 0.0123456, 2.5].map(formatSeconds)).toEqual(['4.2 µs', '12.3 ms', '2.5 s'])
  })
})

describe('the goals', () => {
  const memory = { held: [], peakMB: 601 }
  const row = (table: string, what: string) => table.split('\n').find((line) => line.includes(what))

  it('are met or missed by medians, the sweep with its potentials', () => {
    const times: Partial<Record<Stage, number[]>> = {
      pair: [1e-6, 40e-6, 90e-6],
      solves: [1.6],
      sweep: [1.5],
    }
    const node = roundsOf(1000, (stage) => times[stage] ?? [1])
    const table = reachTable(node, { missing: 'none' }, memory, peersWith([2, 2.8, 9], [1, 1, 0.1]))
    expect(row(table, 'a pair')).toBe('| a pair, Node | ≤ 50 µs | 40 µs | met |')
    expect(row(table, 'sweep')).toContain('| 3.1 s | **missed** |')
    expect(row(table, 'memory')).toContain('| 601 MB | **missed** |')
    expect(row(table, 'ours ÷ X')).toContain('| 2.80 | met |')
  })

  it('say when no peer was measured', () => {
    const table = reachTable(
      roundsOf(1000, () => [1]),
      { missing: 'none' },
      memory,
      null,
    )
    expect(row(table, 'compiled')).toContain('not measured')
    expect(peerTable(null)).toBe('No peer was measured in this run.')
    const missing = peerTable({ missing: ['no compiler'], measured: { ...peersWith([1], [1]), peers: [] } })
    expect(missing).toContain('no compiler')
  })
})

describe('the table of growth', () => {
  it('tells the power of every stage and of the memory', () => {
    const points = [1000, 10_000, 100_000].map((joints) => ({
      times: roundsOf(joints, (stage) => [stage === 'pair' ? 1e-6 : 1e-6 * joints ** 1.25]),
      peakMB: 50,
      heldMB: joints / 1000,
    }))
    const lines = growthTable(points).split('\n')
    const power = (name: string) =>
      lines
        .find((line) => line.startsWith(`| ${name}`))!
        .split(' | ')
        .at(-1)
    expect(power('factor')).toBe('1.25 |')
    expect(power('resistance of a pair')).toMatch(/^-?0.00 \|$/)
    expect(power('peak memory')).toBe('0.00 |')
    expect(power('held at most')).toBe('1.00 |')
  })
})
