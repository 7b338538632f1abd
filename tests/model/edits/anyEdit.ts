import type { RandomStream } from '../../../src/base/random.ts'
import { takeCopy } from '../../../src/model/copied.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { drawnSorts } from '../../../src/model/drawnItem.ts'
import { addAsBuilt, removeAsBuilt } from '../../../src/model/edits/asBuilt.ts'
import {
  addConductor,
  insertPoint,
  landPoint,
  moveConductor,
  movePoint,
  removeConductor,
  removePoint,
} from '../../../src/model/edits/conductors.ts'
import { copyItems } from '../../../src/model/edits/copyItems.ts'
import { clearDifferingJoint, setDifferingJoint } from '../../../src/model/edits/differingJoints.ts'
import type { Edit } from '../../../src/model/edits/edit.ts'
import {
  addEarthBar,
  addElectrode,
  addEnclosure,
  removeEarthBar,
  removeElectrode,
  removeEnclosure,
} from '../../../src/model/edits/equipment.ts'
import { addExtraJoint, changeExtraJoint, removeExtraJoint } from '../../../src/model/edits/extraJoints.ts'
import { changeFacts } from '../../../src/model/edits/facts.ts'
import { addJointKind, changeJointKind, removeJointKind } from '../../../src/model/edits/jointKinds.ts'
import { clearFoundJoint, setFoundJoint } from '../../../src/model/edits/foundJoints.ts'
import { clearLabels, numberTables } from '../../../src/model/edits/labels.ts'
import { moveItems, turnItems } from '../../../src/model/edits/moveItems.ts'
import { pasteCopy } from '../../../src/model/edits/pasteCopy.ts'
import { removeItems } from '../../../src/model/edits/removeItems.ts'
import { replaceRowType, setRowTables } from '../../../src/model/edits/rowTables.ts'
import { addPairs, addPlan, removePairs, removePlan } from '../../../src/model/edits/plans.ts'
import { addRow, changeRow, copyRow, moveRows, removeRows } from '../../../src/model/edits/rows.ts'
import { insertTables, labelTable, removeTable, retypeTable } from '../../../src/model/edits/tables.ts'
import { addTableType, changeTableType, removeTableType } from '../../../src/model/edits/tableTypes.ts'
import { fixedTilt, tracker } from '../exampleSite.ts'

const parts = [
  'B1',
  'B2',
  'E1',
  'E2',
  'G1',
  'C1.1',
  'C2.1',
  'C3.1',
  'C3.2',
  'R1/T1/L1.1',
  'R3/T2/F1.4',
  'R4/T1/X1',
  'earth',
  'x',
]
const joints = [
  'R1/T1/F1.1~L1.2',
  'R1/T1+T2~1',
  'C1.1~lug',
  'C3.1~wire',
  'R3/T1/P1.2~L1.3',
  'J1',
  'G1~earth',
  'x',
]
const kinds = ['frameClamp', 'jumper', 'crimpLug', 'wire', 'mine', 'none']

/**
 * Some edit, sensible or not: ids may not exist, addresses may dangle, numbers may be out of range. Most can
 * be made on a small site, and those that cannot must leave it as it is.
 */
export function anyEdit(random: RandomStream): Edit {
  const upTo = (most: number) => 1 + random.integer(most)
  const oneOf = <T>(items: readonly T[]) => items[random.integer(items.length)]
  const point = () => ({ x: random.integer(200_002) - 100_000, y: random.integer(50) })
  const near = () => ({ x: random.integer(50), y: random.integer(50) })
  const type = () => oneOf(['fixed', 'tracker', 'other', 'none'])
  const landing = () => (random.uniform() < 0.3 ? null : { part: oneOf(parts), kind: oneOf(kinds) })
  const linkCount = () => oneOf([0, 1, 2] as const)
  const form = () => {
    const base = oneOf([fixedTilt, tracker])
    const across = upTo(6)
    return {
      ...base,
      id: type(),
      modules: { ...base.modules, across },
      frameBond: oneOf([fixedTilt, tracker]).frameBond,
    }
  }
  const some = (): DrawnItem[] =>
    Array.from({ length: upTo(3) }, () => ({ sort: oneOf(drawnSorts), id: upTo(3) }))
  const median = () => oneOf([null, 0.001, 0.5, -1])

  const choices: readonly (() => Edit)[] = [
    () =>
      addRow({
        label: 'new',
        originM: near(),
        bearingDeg: random.integer(362),
        gapM: 0.2,
        type: type(),
        tables: random.integer(5),
        links: { count: linkCount(), kind: oneOf(kinds) },
      }),
    () =>
      changeRow({ row: upTo(6), changes: { links: { count: linkCount(), kind: oneOf(kinds) }, gapM: 1 } }),
    () => moveRows({ rows: [upTo(6), upTo(6)], byM: near() }),
    () => copyRow({ row: upTo(6), label: 'copy', originM: near() }),
    () => removeRows({ rows: [upTo(6)] }),
    () =>
      insertTables({ row: upTo(6), after: oneOf([null, upTo(6)]), type: type(), tables: random.integer(4) }),
    () => removeTable({ row: upTo(6), table: upTo(8) }),
    () => retypeTable({ row: upTo(6), table: upTo(8), type: type() }),
    () => labelTable({ row: upTo(6), table: upTo(8), label: oneOf(['', 'a']) }),
    () => addTableType(form()),
    () => changeTableType(form()),
    () => removeTableType({ id: type() }),
    () => addEnclosure({ label: '', atM: point(), widthM: 1, depthM: random.integer(3), bearingDeg: 0 }),
    () => removeEnclosure({ id: upTo(3) }),
    () => addEarthBar({ label: '', atM: point() }),
    () => removeEarthBar({ id: upTo(3) }),
    () =>
      addElectrode({ form: 'rod', label: '', measuredOhm: null, atM: point(), lengthM: 2, diameterM: 0.01 }),
    () => removeElectrode({ id: upTo(4) }),
    () =>
      addConductor({
        label: '',
        material: 'copper',
        areaMm2: 16,
        size: oneOf([null, 'mm2-16', 'none']),
        closed: random.uniform() < 0.5,
        lengthM: null,
        points: Array.from({ length: upTo(4) }, () => ({ atM: near(), landing: landing() })),
      }),
    () => landPoint({ conductor: upTo(4), point: upTo(4), landing: landing() }),
    () =>
      insertPoint({
        conductor: upTo(4),
        after: oneOf([null, upTo(4)]),
        at: { atM: near(), landing: landing() },
      }),
    () => movePoint({ conductor: upTo(4), point: upTo(4), toM: point() }),
    () => moveConductor({ conductor: upTo(4), byM: near() }),
    () => removePoint({ conductor: upTo(4), point: upTo(4) }),
    () => removeConductor({ id: upTo(4) }),
    () =>
      addExtraJoint({
        label: '',
        from: oneOf(parts),
        to: oneOf(parts),
        kind: oneOf(kinds),
        medianOhm: median(),
      }),
    () => changeExtraJoint({ id: upTo(3), changes: { to: oneOf(parts), medianOhm: median() } }),
    () => removeExtraJoint({ id: upTo(3) }),
    () =>
      setDifferingJoint({
        joint: oneOf(joints),
        change: oneOf(['absent', 'other']),
        kind: oneOf([null, ...kinds]),
        medianOhm: median(),
      }),
    () => clearDifferingJoint({ joint: oneOf(joints) }),
    () =>
      addAsBuilt({
        found: {
          form: 'jointAdded',
          from: oneOf(parts),
          to: oneOf(parts),
          kind: oneOf(kinds),
          medianOhm: median(),
        },
        on: null,
        note: '',
      }),
    () => removeAsBuilt({ id: upTo(5) }),
    () =>
      addJointKind({
        id: 'mine',
        name: '',
        purpose: 'relied',
        medianOhm: median(),
        lnSpread: 1,
        defectRate: 0,
        source: '',
      }),
    () => changeJointKind({ id: oneOf(kinds), changes: { medianOhm: median() } }),
    () => removeJointKind({ id: oneOf(kinds) }),
    () => moveItems({ items: some(), byM: { x: random.normal(), y: random.integer(9) } }),
    () => turnItems({ items: some(), byDeg: random.integer(720) - 360, aboutM: near() }),
    () => removeItems({ items: some().slice(0, 1) }),
    () => copyItems({ items: some(), byM: near(), times: random.integer(4) }),
    () => {
      const [items, byM] = [some(), near()]
      return (site) => pasteCopy({ copied: takeCopy(site, items), byM })(site)
    },
    () => setRowTables({ row: upTo(6), tables: random.integer(8) }),
    () => replaceRowType({ rows: [upTo(6)], type: type() }),
    () =>
      setFoundJoint({
        joint: oneOf(joints),
        found: oneOf(['absent', 'other']),
        kind: oneOf([null, ...kinds]),
        medianOhm: median(),
        on: null,
        note: '',
      }),
    () => clearFoundJoint({ joint: oneOf(joints) }),
    () =>
      numberTables({
        rows: [upTo(4), upTo(4)],
        rule: {
          pattern: oneOf(['{row}-{table}', '{row:A}{table:02}', '{none}', '']),
          row: { first: random.integer(3), step: random.integer(3) },
          table: { first: random.integer(3), step: 1 },
          start: oneOf(['southWest', 'southEast', 'northWest', 'northEast']),
          rowOrder: oneOf(['fromCorner', 'asListed']),
          course: oneOf(['rowByRow', 'serpentine']),
          counting: oneOf(['through', 'eachRow']),
        },
      }),
    () => clearLabels({ rows: [upTo(4)], of: oneOf(['tables', 'rows']) }),
    () => changeFacts({ soilOhmM: random.integer(3) * 100 }),
    () => addPlan({ id: oneOf(['one', 'two']), name: '', note: '' }),
    () =>
      addPairs({
        plan: oneOf(['one', 'firstTest']),
        pairs: [{ from: oneOf(parts), to: oneOf(parts), required: false }],
      }),
    () => removePairs({ plan: oneOf(['one', 'firstTest']), pairs: [upTo(4)] }),
    () => removePlan({ id: oneOf(['one', 'two', 'firstTest']) }),
  ]
  return oneOf(choices)()
}
