import { bodySort, soilSort } from '../layout/jointPlaces.ts'
import { sights, type Sight } from '../model/planning.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { jointPointM } from './markPoints.ts'
import { tableShares, type TableShare } from './sightMarks.ts'

/** What is drawn of the sights of joints, worked out once for all views. */
export interface SightTints {
  /** By joint number: the number of its sight in `sights`. */
  readonly sight: Uint8Array
  /** First table of each run, counted through all runs. */
  readonly tableStart: Int32Array
  /** By table: the number in `tableShares`, plus 4 where most of what shows is below the criterion. */
  readonly tables: Uint8Array
  /** Joints that belong to no table, with where they are marked: x₀ y₀ x₁ y₁ … */
  readonly loose: Int32Array
  readonly looseM: Float64Array
}

const cannotFail = sights.indexOf('cannotFail')
const criterion = sights.indexOf('criterion')
const comparison = sights.indexOf('comparison')

/** Null where the sights are not of this drawing. O(joints). */
export function sightTints(geometry: MapGeometry, sight: Uint8Array | null | undefined): SightTints | null {
  const { index, absentJoints } = geometry
  if (!sight || sight.length < index.jointCount) return null
  const { runs, jumperStart, jointStart } = index.rows
  const tableStart = new Int32Array(runs.count.length + 1)
  for (let run = 0; run < runs.count.length; run++) tableStart[run + 1] = tableStart[run] + runs.count[run]
  const tables = new Uint8Array(tableStart[runs.count.length])
  for (let run = 0; run < runs.count.length; run++) {
    const { pattern, jointSort } = typeOfRun(geometry, run)
    for (let place = 0; place < runs.count[run]; place++) {
      const first = runs.jointStart[run] + place * pattern.jointCount
      let [over, by, all] = [0, 0, 0]
      for (let j = 0; j < pattern.jointCount; j++) {
        const found = sight[first + j]
        if (found === cannotFail || jointSort[j] === bodySort || jointSort[j] === soilSort) continue
        if (absentJoints.size > 0 && absentJoints.has(first + j)) continue
        all++
        if (found === criterion) over++
        else if (found === comparison) by++
      }
      tables[tableStart[run] + place] = shareOf(over + by, all) + (by > over ? tableShares.length : 0)
    }
  }
  const loose: number[] = []
  const looseM: number[] = []
  const add = (joint: number) => {
    if (sight[joint] === cannotFail || absentJoints.has(joint)) return
    const { x, y } = jointPointM(geometry, joint)
    loose.push(joint)
    looseM.push(x, y)
  }
  for (let row = 0; row < jumperStart.length; row++) {
    for (let joint = jumperStart[row]; joint < jointStart[row + 1]; joint++) add(joint)
  }
  for (let joint = index.conductorJointStart; joint < index.electrodeJointStart; joint++) add(joint)
  return {
    sight,
    tableStart,
    tables,
    loose: Int32Array.from(loose),
    looseM: Float64Array.from(looseM),
  }
}

/** A table in which nothing can fail is as good as one of which all shows. */
function shareOf(shown: number, all: number): number {
  const share: TableShare = shown === all ? 'all' : shown === 0 ? 'none' : 2 * shown >= all ? 'most' : 'few'
  return tableShares.indexOf(share)
}

/** The sights that occur, in the order of `sights`. O(joints). */
export function sightsIn(sight: Uint8Array): readonly Sight[] {
  const seen = new Uint8Array(sights.length)
  for (const number of sight) seen[number] = 1
  return sights.filter((_, k) => seen[k] === 1)
}
