import { describe, expect, it } from 'vitest'
import type { EditDeed } from '../../src/model/edits/editDeed.ts'
import { describeDeed } from '../../src/text/drawDeedText.ts'
import { describeColumnFit, describeOtherKinds, describeRepeats } from '../../src/text/labelText.ts'

describe('labels that stand twice', () => {
  it('are told with what follows from it', () => {
    expect(describeRepeats({ labels: 0, ambiguous: 0, examples: [] })).toBeNull()
    expect(describeRepeats({ labels: 2, ambiguous: 0, examples: ['1', '2'] })).toBe(
      '2 labels stand on more than one table: “1” and “2”. The labels of their rows tell those tables apart.',
    )
    expect(describeRepeats({ labels: 9, ambiguous: 3, examples: ['a', 'b'] })).toBe(
      '9 labels stand on more than one table, among them “a” and “b”. With 3 of them the labels of the rows are ' +
        'alike too, so that nobody on site can tell which table is meant.',
    )
    expect(describeRepeats({ labels: 1, ambiguous: 1, examples: ['a'] })).toContain(
      '1 label stands on more than one table: “a”. There the labels of the rows are alike too',
    )
  })
})

describe('a pasted column', () => {
  it('says what fits and what is over', () => {
    expect(describeColumnFit({ lines: 0, tables: 8, labelled: 0, linesOver: 0, tablesOver: 8 })).toContain(
      'one line',
    )
    expect(describeColumnFit({ lines: 8, tables: 8, labelled: 8, linesOver: 0, tablesOver: 0 })).toBe(
      '8 labels for 8 tables.',
    )
    expect(describeColumnFit({ lines: 4, tables: 8, labelled: 3, linesOver: 0, tablesOver: 4 })).toBe(
      '3 labels for 8 tables. 1 line is empty: its table keeps what is painted there. ' +
        'The last 4 tables would stay as they are.',
    )
    expect(describeColumnFit({ lines: 5, tables: 2, labelled: 2, linesOver: 3, tablesOver: 0 })).toBe(
      '2 labels for 2 tables. 3 lines are over at the end and would be left out.',
    )
  })
})

it('kinds whose figures stayed are named', () => {
  expect(describeOtherKinds([])).toBeNull()
  expect(describeOtherKinds(['jumper'])).toMatch(/^The joint kind “jumper” has other figures/)
  expect(describeOtherKinds(['a', 'b'])).toMatch(/^The joint kinds “a” and “b” have other figures/)
})

it.each([
  [{ deed: 'move', items: 1 }, 'move 1 thing'],
  [{ deed: 'remove', items: 3 }, 'remove 3 things'],
  [{ deed: 'copy', items: 3, times: 5 }, 'copy 3 things, 5 times'],
  [{ deed: 'align', items: 3, edge: 'left' }, 'align 3 things by their west sides'],
  [{ deed: 'space', items: 4, along: 'y' }, 'space 4 things evenly, south to north'],
  [{ deed: 'setRowTables', tables: 12 }, 'make the row 12 tables long'],
  [{ deed: 'replaceRowType', rows: 2 }, 'change the table type of 2 rows'],
  [{ deed: 'numberTables', tables: 12_480 }, 'number 12,480 tables'],
  [{ deed: 'clearLabels', of: 'tables', rows: 1 }, 'take the labels off the tables of 1 row'],
  [{ deed: 'setFoundJoint', found: 'absent' }, 'note a joint as not there'],
] as readonly [EditDeed, string][])('a step %o is called %s', (deed, name) => {
  expect(describeDeed(deed)).toBe(name)
})
