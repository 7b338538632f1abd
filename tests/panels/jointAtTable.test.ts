import { describe, expect, it } from 'vitest'
import { isJointAtTable } from '../../src/panels/jointAtTable.ts'
import { namedDrawing } from '../text/namedSite.ts'

const empty = namedDrawing()
const point = (id: number, part: string | null) => ({
  id,
  atM: { x: id, y: 0 },
  landing: part === null ? null : { part, kind: 'crimpLug' },
})
const [like] = empty.conductors
const drawing = {
  ...empty,
  conductors: [
    {
      ...like,
      id: 1,
      closed: false,
      points: [point(1, 'B1'), point(2, null), point(3, 'R2/T4/L1.1'), point(4, 'R2/T5/L1.1')],
    },
  ],
  extraJoints: [{ ...empty.extraJoints[0], id: 7, from: 'R2/T4/F1.1', to: 'B1' }],
}
const at = (table: number, joint: string) => isJointAtTable(drawing, joint, 2, table)

describe('joints at a table', () => {
  it.each([
    ['R2/T4/F1.1~L1.1', [4]],
    ['R2/T3+T4~1', [3, 4]],
    ['C1.3~lug', [4]],
    ['C1.1~lug', []],
    ['C1.1~wire', [4]],
    ['C1.3~wire', [4, 5]],
    ['J7', [4]],
    ['R2/T5/P1.1~earth', [5]],
    ['B1~earth', []],
    ['R3/T4/F1.1~L1.1', []],
    ['nothing', []],
  ])('%s', (joint, tables) => {
    expect([3, 4, 5].filter((table) => at(table, joint))).toEqual(tables)
  })
})
