import type { SoilLeaks } from '../network/soilLeaks.ts'

/**
 * Leaks in squares, each of which is cut into four until at most a few are left. Square s holds the leaks member[start[s]] …
 * member[start[s + 1 …]]; its squares are child[4 s + 0 … 3], −1 for none. Of each square two rods stand for what gives
 * off current in it and what takes it (`lumpX[2 s]`, `lumpX[2 s + 1]`), in the middle weighted by current.
 */
export interface LeakTree {
  readonly centreX: number[]
  readonly centreY: number[]
  readonly widthM: number[]
  readonly child: number[]
  /** Leaks of a square that is not cut further, by number; empty for others. */
  readonly members: (readonly number[])[]
  readonly lumpX: number[]
  readonly lumpY: number[]
  readonly lumpLengthM: number[]
  readonly lumpA: number[]
}

const mostMembers = 4
/** Leaks at one place are not parted by cutting. */
const mostDepth = 24

/** O(leaks · log leaks). Square 0 holds all; no square where there is no leak. */
export function leakTree(leaks: SoilLeaks): LeakTree {
  const tree: LeakTree = {
    centreX: [],
    centreY: [],
    widthM: [],
    child: [],
    members: [],
    lumpX: [],
    lumpY: [],
    lumpLengthM: [],
    lumpA: [],
  }
  const { xM, yM } = leaks
  if (xM.length === 0) return tree
  const [lowX, highX] = rangeOf(xM)
  const [lowY, highY] = rangeOf(yM)
  const widthM = Math.max(highX - lowX, highY - lowY, 1e-3)
  const all = Array.from(xM, (_, p) => p)
  addSquare(tree, leaks, all, (lowX + highX) / 2, (lowY + highY) / 2, widthM, 0)
  return tree
}

function rangeOf(values: Float64Array): readonly [number, number] {
  let low = Infinity
  let high = -Infinity
  for (const value of values) {
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return [low, high]
}

function addSquare(
  tree: LeakTree,
  leaks: SoilLeaks,
  members: readonly number[],
  x: number,
  y: number,
  widthM: number,
  depth: number,
): number {
  const square = tree.widthM.length
  tree.centreX.push(x)
  tree.centreY.push(y)
  tree.widthM.push(widthM)
  tree.child.push(-1, -1, -1, -1)
  addLump(tree, leaks, members, 1)
  addLump(tree, leaks, members, -1)
  const isWhole = members.length <= mostMembers || depth === mostDepth
  tree.members.push(isWhole ? members : [])
  if (isWhole) return square
  const quarters: number[][] = [[], [], [], []]
  for (const p of members) quarters[(leaks.xM[p] > x ? 1 : 0) + (leaks.yM[p] > y ? 2 : 0)].push(p)
  quarters.forEach((quarter, k) => {
    if (quarter.length === 0) return
    const quarterX = x + ((k & 1) - 0.5) * (widthM / 2)
    const quarterY = y + ((k >> 1) - 0.5) * (widthM / 2)
    tree.child[4 * square + k] = addSquare(tree, leaks, quarter, quarterX, quarterY, widthM / 2, depth + 1)
  })
  return square
}

/** One rod for the members whose current has this sign, in the middle of them. */
function addLump(tree: LeakTree, leaks: SoilLeaks, members: readonly number[], sign: number): void {
  let sum = 0
  let x = 0
  let y = 0
  let lengthM = 0
  for (const p of members) {
    const leakA = leaks.leakA[p]
    if (leakA * sign <= 0) continue
    sum += leakA
    x += leakA * leaks.xM[p]
    y += leakA * leaks.yM[p]
    lengthM += leakA * leaks.lengthM[p]
  }
  const share = sum === 0 ? 0 : 1 / sum
  tree.lumpX.push(x * share)
  tree.lumpY.push(y * share)
  tree.lumpLengthM.push(lengthM * share)
  tree.lumpA.push(sum)
}
