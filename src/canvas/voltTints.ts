import { bodySort, soilSort } from '../layout/jointPlaces.ts'
import type { FaultMarks } from '../state/mapMarks.ts'
import { typeOfRun, type MapGeometry } from './geometry.ts'
import { jointPointM } from './markPoints.ts'
import { voltClass } from './voltSteps.ts'

/** What is drawn of volts, worked out once for all views; numbers are classes of `voltSteps`, 0 for none. */
export interface VoltTints {
  /** By part number; null where joints are tinted. */
  readonly parts: Uint8Array | null
  /** By joint number; null where parts are tinted. */
  readonly joints: Uint8Array | null
  /** First table of each run, counted through all runs. */
  readonly tableStart: Int32Array
  /** By table: the most of what is in it. */
  readonly tables: Uint8Array
  /** Joints that belong to no table and have a class, with where they are marked: x₀ y₀ x₁ y₁ … */
  readonly loose: Int32Array
  readonly looseM: Float64Array
}

/** Null where no fault is shown, or it is of another drawing. O(parts) or O(joints). */
export function voltTints(geometry: MapGeometry, fault: FaultMarks | null | undefined): VoltTints | null {
  const { index } = geometry
  if (!fault) return null
  const { partV, lossV } = fault
  if (partV && partV.length >= index.partCount) {
    const parts = classesOf(partV)
    return { parts, joints: null, ...tablesOf(geometry, parts, 'parts'), ...noLoose }
  }
  if (lossV && lossV.length >= index.jointCount) {
    const joints = classesOf(lossV)
    return { parts: null, joints, ...tablesOf(geometry, joints, 'joints'), ...looseOf(geometry, joints) }
  }
  return null
}

const noLoose = { loose: new Int32Array(0), looseM: new Float64Array(0) }

function classesOf(volts: Float32Array): Uint8Array {
  const classes = new Uint8Array(volts.length)
  for (let i = 0; i < volts.length; i++) classes[i] = voltClass(volts[i])
  return classes
}

function tablesOf(
  geometry: MapGeometry,
  classes: Uint8Array,
  of: 'parts' | 'joints',
): Pick<VoltTints, 'tableStart' | 'tables'> {
  const { runs } = geometry.index.rows
  const tableStart = new Int32Array(runs.count.length + 1)
  for (let run = 0; run < runs.count.length; run++) tableStart[run + 1] = tableStart[run] + runs.count[run]
  const tables = new Uint8Array(tableStart[runs.count.length])
  for (let run = 0; run < runs.count.length; run++) {
    const { pattern, jointSort } = typeOfRun(geometry, run)
    const count = of === 'parts' ? pattern.partCount : pattern.jointCount
    const start = of === 'parts' ? runs.partStart[run] : runs.jointStart[run]
    for (let place = 0; place < runs.count[run]; place++) {
      const first = start + place * count
      let most = 0
      for (let i = 0; i < count; i++) {
        const isNoJoint = of === 'joints' && (jointSort[i] === bodySort || jointSort[i] === soilSort)
        if (!isNoJoint) most = Math.max(most, classes[first + i])
      }
      tables[tableStart[run] + place] = most
    }
  }
  return { tableStart, tables }
}

function looseOf(geometry: MapGeometry, classes: Uint8Array): Pick<VoltTints, 'loose' | 'looseM'> {
  const { jumperStart, jointStart } = geometry.index.rows
  const loose: number[] = []
  const looseM: number[] = []
  const add = (joint: number) => {
    if (classes[joint] === 0) return
    const { x, y } = jointPointM(geometry, joint)
    loose.push(joint)
    looseM.push(x, y)
  }
  for (let row = 0; row < jumperStart.length; row++) {
    for (let joint = jumperStart[row]; joint < jointStart[row + 1]; joint++) add(joint)
  }
  for (let joint = geometry.index.conductorJointStart; joint < geometry.index.jointCount; joint++) add(joint)
  return { loose: Int32Array.from(loose), looseM: Float64Array.from(looseM) }
}
