import { spawnSync } from 'node:child_process'
import { createWriteStream } from 'node:fs'
import { join } from 'node:path'
import { finished } from 'node:stream/promises'
import type { NetworkAnswer } from '../../../src/engine/networkAnswer.ts'
import { finish } from '../../../src/engine/progress.ts'
import { run } from '../../../src/engine/run.ts'
import { emptySiteCache } from '../../../src/engine/siteCache.ts'
import { largestIsland, writeGroundedLaplacian } from '../../../src/headless/matrixMarket.ts'
import { streamOutput } from '../../../src/headless/output.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { pairResistance } from '../../../src/network/pairResistance.ts'
import { prepareSolver } from '../../../src/network/solver.ts'
import { solveInPlace } from '../../../src/network/solve.ts'
import type { Peer } from './peers.ts'
import { readPeerLine } from './peerLine.ts'
import { compiled, openedSite } from './stages.ts'
import { toEnd } from './toEnd.ts'

/** Order, analysis and factor in one, seconds; and one solution with the finished factor. */
export interface SolverTimes {
  readonly prepareS: readonly number[]
  readonly solveS: readonly number[]
}

export interface PeerTimes extends SolverTimes {
  readonly peer: string
  /** How far its number is from ours, relative. */
  readonly disagreement: number
}

export interface PeerRounds {
  readonly unknowns: number
  readonly ours: SolverTimes
  readonly firstS: number
  readonly peers: readonly PeerTimes[]
}

/** A peer tells the median of so many in a row: its first, like our first round, has new memory to fetch. */
const repeats = 3

/** How closely a peer has to agree before its time counts for anything. */
const agreement = 1e-9

/**
 * The matrix of a site's largest island given to every peer as a file, and the work done in turns: ours, one
 * peer, the other, ours … The number that a peer prints is the resistance between the last unknown and the
 * reference; throws where ours is another.
 */
export async function measurePeers(
  bytes: Uint8Array,
  peers: readonly Peer[],
  rounds: number,
  folder: string,
): Promise<PeerRounds> {
  const site = openedSite(bytes)
  const network = compiled(site)
  const { graph, electrical, references } = network
  const conductanceS = network.medianOhm.map((ohm) => 1 / ohm)
  const matrix = matrixOf(site)
  const island = largestIsland(matrix)
  const file = join(folder, 'laplacian.mtx')
  const stream = createWriteStream(file)
  const output = streamOutput(stream)
  await writeGroundedLaplacian(matrix, island, [], output)
  await output.flush()
  stream.end()
  await finished(stream)

  const last = island.nodes[island.nodes.length - 1]
  const ours = { prepareS: [] as number[], solveS: [] as number[] }
  const theirs = peers.map((peer) => ({
    peer: peer.name,
    prepareS: [] as number[],
    solveS: [] as number[],
    disagreement: 0,
  }))
  let firstS = 0
  // the first turn is only a start for everyone: compiled code, files in memory
  for (let turn = 0; turn <= rounds; turn++) {
    const started = performance.now()
    const { factor } = toEnd(prepareSolver(graph, conductanceS, electrical.islands.of, references))
    const prepared = performance.now()
    const current = new Float64Array(graph.nodeCount)
    current[last] = 1
    const solving = performance.now()
    solveInPlace(factor, current)
    const solved = performance.now()
    if (turn === 0) firstS = (prepared - started) / 1000
    else {
      ours.prepareS.push((prepared - started) / 1000)
      ours.solveS.push((solved - solving) / 1000)
    }
    const ohm = pairResistance(factor, last, island.reference)
    peers.forEach((peer, k) => {
      const result = readPeerLine(runPeer(peer, file))
      if (result.unknowns !== island.nodes.length) throw new Error(`${peer.name} read another matrix`)
      const disagreement = Math.abs(result.checkOhm - ohm) / ohm
      if (!(disagreement < agreement)) {
        throw new Error(`${peer.name} says ${result.checkOhm} ohm, we say ${ohm} ohm`)
      }
      theirs[k].disagreement = Math.max(theirs[k].disagreement, disagreement)
      if (turn === 0) return
      theirs[k].prepareS.push(result.analyseS + result.factorS)
      theirs[k].solveS.push(result.solveS)
    })
  }
  return { unknowns: island.nodes.length, ours, firstS, peers: theirs }
}

/** The network as the program tells it, from which it writes matrices for others. */
function matrixOf(site: Site): NetworkAnswer {
  const answer = finish(run('network', { countIncidental: true, asBuilt: false }, site, emptySiteCache()))
  if (!answer.ok) throw new Error('the site has no network')
  return answer.value
}

function runPeer({ name, command, args }: Peer, file: string): string {
  const run = spawnSync(command, [...args, file, String(repeats)], { encoding: 'utf8', maxBuffer: 1 << 20 })
  if (run.status !== 0) throw new Error(`${name} ended with ${run.status}: ${run.stderr}`)
  return run.stdout
}
