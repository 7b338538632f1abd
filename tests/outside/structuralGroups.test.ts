import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { locate } from '../../src/locate/locate.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import type { JointKind } from '../../src/model/schema/jointKind.ts'
import type { Kit } from '../../src/model/schema/record.ts'
import { longLead } from '../generator/testKits.ts'
import { graphOf } from '../network/patchedNetworks.ts'
import { rebuild } from '../network/rebuiltNetwork.ts'
import { barName, barSite, preparedSite, runToEnd, withVisit } from './barSite.ts'

/*
 * Boolean network tomography: links that work or do not, paths that pass or fail. After Ma, He, Swami, Towsley, Leung
 * and Lowe, "Node failure localization via network tomography" (2014; longer as arXiv 1509.06333), from memory: a set
 * of failures is told from another only where some path crosses one of them and not the other, so that single
 * failures are identifiable exactly when the columns of the path matrix are distinct and none is zero. Here links are
 * joints. On a tree a reading is such a path: it is open when the one joint that is open lies on the way.
 *
 * Taken are all readings that a fault makes; the program gathers the joints it cannot tell apart into groups. Held
 * against it are columns worked out from the graph alone, by walking. Joints have no ohms to speak of beside the
 * instrument's digits, and are open or sound, so that nothing else tells them apart.
 */
const link: JointKind = {
  id: 'link',
  name: 'link',
  purpose: 'relied',
  medianOhm: 0.0005,
  lnSpread: 0.4,
  defectRate: 0.02,
  source: '',
}

const shortLead = { ...longLead, lengthM: 2 }
const kit: Kit = {
  id: 'kit',
  name: '',
  serial: '',
  method: 'fourWire',
  testCurrentA: 10,
  resolutionOhm: 0.01,
  gainError: 0.02,
  digits: 3,
  mostOhm: 200,
  calibrationDue: null,
  lastCheck: null,
}

type Pair = readonly [from: number, to: number]

/** Joints whose loss parts the two ends, of each pair: the rows of the path matrix. By walking, joint by joint. */
function pathMatrix(bars: number, joints: readonly Pair[], pairs: readonly Pair[]): boolean[][] {
  return pairs.map(([from, to]) => joints.map((_, lost) => !isReached(bars, joints, lost, from, to)))
}

function isReached(bars: number, joints: readonly Pair[], lost: number, from: number, to: number): boolean {
  const reached = new Uint8Array(bars)
  reached[from] = 1
  for (let round = 0; round < bars; round++) {
    joints.forEach(([u, v], e) => {
      if (e !== lost && reached[u] + reached[v] === 1) reached[u] = reached[v] = 1
    })
  }
  return reached[to] === 1
}

const columnOf = (matrix: readonly boolean[][], joint: number) =>
  matrix.map((row) => (row[joint] ? '1' : '0')).join('')

/** The joints that no reading tells from this one, by the path matrix. */
function alike(matrix: readonly boolean[][], joint: number, count: number): number[] {
  const own = columnOf(matrix, joint)
  return Array.from({ length: count }, (_, e) => e).filter((e) => columnOf(matrix, e) === own)
}

/** First group of joints, counted from 0, that the program names when one joint is open. */
function namerOf(bars: number, joints: readonly Pair[], pairs: readonly Pair[]) {
  const site = barSite(
    bars,
    joints.map(([from, to]) => ({ from, to, kind: 'link' })),
    [link],
  )
  const prepared = preparedSite(site)
  const cache = emptyLocateCache()
  const graph = graphOf(bars, joints)
  return (open: number) => {
    const { resistance } = rebuild(
      graph,
      joints.map((_, e) => (e === open ? 0 : 1 / 0.0005)),
    )
    // each reading twice, so that no single clip is to blame
    const readings = [...pairs, ...pairs].map(([from, to], k) => {
      const ohm = resistance(from, to)
      return {
        from: barName(from),
        to: barName(to),
        ohm: ohm > kit.mostOhm ? null : Math.round(ohm * 100) / 100,
        minute: 1 + k,
        // so that no lead that broke once explains all that is over range
        nulled: true,
        repeats: k < pairs.length ? undefined : k - pairs.length,
      }
    })
    const answer = runToEnd(locate(withVisit(site, kit, shortLead, readings), prepared, cache))
    const [first] = answer.groups
    return {
      nothing: answer.nothingBrokenProbability,
      probability: first?.probability ?? 0,
      joints: (first?.joints ?? []).map(({ joint }) => Number(joint.slice(1)) - 1).sort((a, b) => a - b),
    }
  }
}

/** Each joint open in turn: the first group is its column of the path matrix, no joint more and none less. */
function expectColumns(bars: number, joints: readonly Pair[], pairs: readonly Pair[]): void {
  const matrix = pathMatrix(bars, joints, pairs)
  const named = namerOf(bars, joints, pairs)
  joints.forEach((_, open) => {
    const { joints: group, probability, nothing } = named(open)
    if (!columnOf(matrix, open).includes('1')) {
      // no path crosses it: nothing shows
      expect(nothing, `J${open + 1}`).toBeGreaterThan(0.9)
      return
    }
    expect(group, `J${open + 1}`).toEqual(alike(matrix, open, joints.length))
    // what was not searched is counted against it: behind an open joint anything may be bad
    expect(probability, `J${open + 1}`).toBeGreaterThan(0.65)
  })
}

function isIdentifiable(matrix: readonly boolean[][], count: number): boolean {
  const columns = Array.from({ length: count }, (_, e) => columnOf(matrix, e))
  return new Set(columns).size === count && columns.every((column) => column.includes('1'))
}

/** Bar 0 with two branches that fork again: seven bars, leaves 3, 4, 5, 6. */
const binaryTree: readonly Pair[] = [
  [0, 1],
  [0, 2],
  [1, 3],
  [1, 4],
  [2, 5],
  [2, 6],
]

describe('single open joints on trees: groups are the columns of the path matrix', () => {
  it('a chain read from one end to some of its bars: the joints between two of them are alike', () => {
    const joints = Array.from({ length: 8 }, (_, k): Pair => [k, k + 1])
    expectColumns(9, joints, [
      [0, 2],
      [0, 3],
      [0, 7],
    ])
  })

  it('a small tree: leaf to leaf tells all but the two joints at its top apart, and with the top, those too', () => {
    const leaves: Pair[] = [
      [3, 4],
      [3, 5],
      [4, 6],
      [5, 6],
    ]
    const withoutTop = pathMatrix(7, binaryTree, leaves)
    expect(isIdentifiable(withoutTop, 6)).toBe(false)
    expect(alike(withoutTop, 0, 6)).toEqual([0, 1])
    expectColumns(7, binaryTree, leaves)

    const withTop: Pair[] = [...leaves, [0, 3]]
    expect(isIdentifiable(pathMatrix(7, binaryTree, withTop), 6)).toBe(true)
    expectColumns(7, binaryTree, withTop)
  })

  it.each([1, 2, 3, 4, 5, 6])('a random tree with random pairs, seed %i', (seed) => {
    const random = randomStream(5100 + seed)
    const bars = 7 + random.integer(4)
    const joints = Array.from({ length: bars - 1 }, (_, k): Pair => [random.integer(k + 1), k + 1])
    const pairs = new Map<string, Pair>()
    while (pairs.size < 5) {
      const [a, b] = [random.integer(bars), random.integer(bars)]
      if (a < b) pairs.set(`${a} ${b}`, [a, b])
    }
    expectColumns(bars, joints, [...pairs.values()])
  })
})

describe('single open joints with ways round', () => {
  it('on a ring without ohms none of them parts any pair, and nothing shows', () => {
    const joints = Array.from({ length: 6 }, (_, k): Pair => [k, (k + 1) % 6])
    const pairs: Pair[] = [1, 2, 3, 4, 5].map((to) => [0, to])
    expect(pathMatrix(6, joints, pairs).flat()).not.toContain(true)
    expectColumns(6, joints, pairs)
  })

  it('a ring with branches: the branches show, each by its column', () => {
    const joints: Pair[] = [
      [0, 1],
      [1, 2],
      [2, 0],
      [1, 3],
      [3, 4],
      [2, 5],
    ]
    expectColumns(6, joints, [
      [0, 4],
      [0, 5],
      [4, 5],
    ])
  })
})
