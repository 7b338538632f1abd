import type { PairInstance, Signs } from './chooseTypes.ts'
import { showersOf, type CoverSets, type Showers } from './coverSets.ts'
import type { Witness } from './ends.ts'

/** Rows of two joints each, met by every candidate that shows the two differently. */
export class PairRows {
  entries = 0
  private readonly rows: number[][] = []
  private readonly shown: CoverSets
  private readonly signs: Signs
  private readonly showers: Showers

  constructor({ shown, signs }: PairInstance) {
    this.shown = shown
    this.signs = signs
    this.showers = showersOf(signs)
  }

  add({ joint, other }: Witness): void {
    const level = new Map<number, number>()
    const { offset, candidate, entry } = this.showers
    for (let i = offset[joint]; i < offset[joint + 1]; i++)
      level.set(candidate[i], this.signs.level[entry[i]])
    for (let i = offset[other]; i < offset[other + 1]; i++) {
      if (level.get(candidate[i]) === this.signs.level[entry[i]]) level.delete(candidate[i])
      else level.set(candidate[i], 0)
    }
    this.rows.push([...level.keys()])
    this.entries += level.size
  }

  setsWith(need: Uint8Array): CoverSets {
    const { joints, candidates, offset, joint } = this.shown
    const extra: number[][] = Array.from({ length: candidates }, () => [])
    this.rows.forEach((row, r) => {
      for (const c of row) extra[c].push(joints + r)
    })
    const start = new Int32Array(candidates + 1)
    const shown = new Int32Array(joint.length + this.entries)
    for (let c = 0; c < candidates; c++) {
      shown.set(joint.subarray(offset[c], offset[c + 1]), start[c])
      shown.set(extra[c], start[c] + offset[c + 1] - offset[c])
      start[c + 1] = start[c] + offset[c + 1] - offset[c] + extra[c].length
    }
    const demand = new Uint8Array(joints + this.rows.length).fill(1)
    demand.set(need)
    return { joints: joints + this.rows.length, candidates, demand, offset: start, joint: shown }
  }
}
