import type { Machine } from './machine.ts'
import { spreadOf } from './median.ts'
import type { HeldMemory, MemoryUse } from './memory.ts'
import type { PeerRounds, PeerTimes } from './peerRounds.ts'
import type { ChromiumResult, GrowthPoint } from './results.ts'
import type { Rounds } from './rounds.ts'
import { fitPowerLaw } from './slope.ts'
import { stages, type Stage } from './stages.ts'

export const stageNames: Readonly<Record<Stage, string>> = {
  open: 'file opened and checked',
  compile: 'network compiled',
  order: 'elimination order',
  analyse: 'pattern of the factor',
  factor: 'factor',
  leverage: 'leverage of all joints',
  pair: 'resistance of a pair',
  currents: 'currents of a pair in all joints',
  solves: 'potentials of 50 readings',
  sweep: 'all joints × 50 readings',
}

/** The goals that the results are held against. */
const goals = { ratio: 3, pairS: 50e-6, sweepS: 3, memoryMB: 600 } as const

/** Seconds in a unit that suits them, three digits. */
export function formatSeconds(seconds: number): string {
  if (seconds < 1e-3) return `${Number((seconds * 1e6).toPrecision(3))} µs`
  if (seconds < 1) return `${Number((seconds * 1e3).toPrecision(3))} ms`
  return `${Number(seconds.toPrecision(3))} s`
}

const grouped = (count: number) => Math.round(count).toLocaleString('en-GB').replaceAll(',', ' ')

export function formatSpread(values: readonly number[], format: (value: number) => string): string {
  const { median, least, most } = spreadOf(values)
  return `${format(median)} (${format(least)} to ${format(most)})`
}

const table = (head: readonly string[], rows: readonly (readonly string[])[]) =>
  [
    `| ${head.join(' | ')} |`,
    `| --- |${' ---: |'.repeat(head.length - 1)}`,
    ...rows.map((row) => `| ${row.join(' | ')} |`),
  ].join('\n')

export function machineLines(
  { cores, processor, memoryGiB, node }: Machine,
  chromium: ChromiumResult,
  [before, after]: readonly [number, number],
  rounds: number,
): string {
  const browser = 'missing' in chromium ? `Chromium: ${chromium.missing}` : `Chromium ${chromium.version}`
  return [
    `${cores} cores (${processor}), ${Math.round(memoryGiB)} GiB of memory, Node ${node}, ${browser}.`,
    `Load of the machine, average of a minute: ${before.toFixed(2)} before the run, ${after.toFixed(2)} after it`,
    `(the run itself keeps one core busy). ${rounds} rounds after a first one, more of them on small fields.`,
  ].join('\n')
}

export function stageTable({ first, seconds, processorSeconds }: Rounds, chromium: ChromiumResult): string {
  const { joints, nodes, entries, readings, fosterDefect } = first
  const sizes =
    `${grouped(joints)} joints, ${grouped(nodes)} parts, ${grouped(entries)} entries in the factor ` +
    `beside the diagonal, ${readings} readings; Foster's sum is met to ${fosterDefect.toExponential(1)}.`
  const head = [
    'stage',
    'Node, median (least to most)',
    'processor time',
    'first time',
    'Chromium worker, median (least to most)',
    'first time',
  ]
  const worker = 'missing' in chromium ? null : chromium.rounds
  const rows = stages.map((stage) => [
    stageNames[stage],
    formatSpread(seconds[stage], formatSeconds),
    formatSeconds(spreadOf(processorSeconds[stage]).median),
    formatSeconds(spreadOf(first.seconds[stage]).median),
    worker ? formatSpread(worker.seconds[stage], formatSeconds) : 'not measured',
    worker ? formatSeconds(spreadOf(worker.first.seconds[stage]).median) : 'not measured',
  ])
  return `${sizes}\n\n${table(head, rows)}`
}

export function memoryTable(held: readonly HeldMemory[], peakMB: number, chromium: ChromiumResult): string {
  const rows = held.map(({ stage, heapMB, arraysMB }) => [
    stage === 'start' ? 'before anything' : stageNames[stage],
    heapMB.toFixed(0),
    arraysMB.toFixed(0),
  ])
  const browser =
    'missing' in chromium || chromium.peakMB === null
      ? 'In Chromium it could not be read.'
      : `In Chromium the process of page and worker reached ${chromium.peakMB.toFixed(0)} MB.`
  return [
    table(['held after', 'objects, MB', 'typed arrays, MB'], rows),
    `Largest resident memory of a Node process that works the site through once: ${peakMB.toFixed(0)} MB. ${browser}`,
  ].join('\n\n')
}

const ratioTo = ({ ours }: PeerRounds, { prepareS }: PeerTimes) =>
  spreadOf(ours.prepareS).median / spreadOf(prepareS).median

export function peerTable(
  peers: { readonly missing: readonly string[]; readonly measured: PeerRounds } | null,
): string {
  if (peers === null) return 'No peer was measured in this run.'
  const { missing, measured } = peers
  const absent = missing.map((reason) => `Not measured: ${reason}.`)
  if (measured.peers.length === 0) return ['No peer was measured in this run.', ...absent].join('\n\n')
  const row = (name: string, prepareS: readonly number[], solveS: readonly number[], more: string[]) => [
    name,
    formatSpread(prepareS, formatSeconds),
    formatSpread(solveS, formatSeconds),
    ...more,
  ]
  const head = [
    'solver',
    'order + analyse + factor',
    'one solution',
    'ours ÷ its',
    'difference of the check number',
  ]
  const rows = [
    row('Groundweave', measured.ours.prepareS, measured.ours.solveS, ['1', '']),
    ...measured.peers.map((peer) =>
      row(peer.peer, peer.prepareS, peer.solveS, [
        ratioTo(measured, peer).toFixed(2),
        peer.disagreement.toExponential(1),
      ]),
    ),
  ]
  const first = `The first time in its process ours took ${formatSeconds(measured.firstS)}.`
  return [`${grouped(measured.unknowns)} unknowns. ${first}`, table(head, rows), ...absent].join('\n\n')
}

export function reachTable(
  node: Rounds,
  chromium: ChromiumResult,
  { peakMB }: MemoryUse,
  peers: PeerRounds | null,
): string {
  const pair = ({ seconds }: Rounds) => spreadOf(seconds.pair).median
  const sweep = ({ seconds }: Rounds) => spreadOf(seconds.solves).median + spreadOf(seconds.sweep).median
  const met = (value: number, goal: number) => (value <= goal ? 'met' : '**missed**')
  const rows: string[][] = []
  const add = (what: string, shown: string, goal: string, verdict: string) =>
    rows.push([what, goal, shown, verdict])
  for (const peer of peers?.peers ?? []) {
    const ratio = ratioTo(peers!, peer)
    add(
      `order + analyse + factor, ours ÷ ${peer.peer}`,
      ratio.toFixed(2),
      `≤ ${goals.ratio}`,
      met(ratio, goals.ratio),
    )
  }
  const places = [
    ['Node', node, peakMB],
    ...('missing' in chromium ? [] : [['Chromium', chromium.rounds, chromium.peakMB] as const]),
  ] as readonly (readonly [string, Rounds, number | null])[]
  for (const [place, rounds, memoryMB] of places) {
    add(
      `a pair, ${place}`,
      formatSeconds(pair(rounds)),
      `≤ ${formatSeconds(goals.pairS)}`,
      met(pair(rounds), goals.pairS),
    )
    add(
      `potentials and sweep of 50 readings, ${place}`,
      formatSeconds(sweep(rounds)),
      `≤ ${formatSeconds(goals.sweepS)}`,
      met(sweep(rounds), goals.sweepS),
    )
    const shown = memoryMB === null ? 'not measured' : `${memoryMB.toFixed(0)} MB`
    add(
      `peak memory, ${place}`,
      shown,
      `≤ ${goals.memoryMB} MB`,
      memoryMB === null ? '' : met(memoryMB, goals.memoryMB),
    )
  }
  if (peers === null) add('beside compiled solvers', 'not measured', `≤ ${goals.ratio}`, '')
  return table(['goal', 'at most', 'measured', ''], rows)
}

/** Points of a stage for a plot or a fit: joints and seconds. */
export function growthOf(points: readonly GrowthPoint[], stage: Stage): (readonly [number, number])[] {
  return points.map(({ times }) => [times.first.joints, spreadOf(times.seconds[stage]).median] as const)
}

/** Points of memory for a plot or a fit: joints and megabytes. */
export function memoryGrowth(
  points: readonly GrowthPoint[],
  which: 'peakMB' | 'heldMB',
): (readonly [number, number])[] {
  return points.map((point) => [point.times.first.joints, point[which]] as const)
}

export function growthTable(points: readonly GrowthPoint[]): string {
  const head = ['joints', ...points.map(({ times }) => grouped(times.first.joints)), 'grows as joints to the']
  const rows = stages.map((stage) => {
    const series = growthOf(points, stage)
    return [
      stageNames[stage],
      ...series.map(([, s]) => formatSeconds(s)),
      fitPowerLaw(series).exponent.toFixed(2),
    ]
  })
  for (const [name, which] of [
    ['peak memory, Node', 'peakMB'],
    ['held at most', 'heldMB'],
  ] as const) {
    const memory = memoryGrowth(points, which)
    const shown = memory.map(([, megabytes]) => `${megabytes.toFixed(0)} MB`)
    rows.push([name, ...shown, fitPowerLaw(memory).exponent.toFixed(2)])
  }
  return table(head, rows)
}
