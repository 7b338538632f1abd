import type { AlignEdge } from '../model/edits/arrangeItems.ts'
import type { EditDeed } from '../model/edits/editDeed.ts'
import { formatCounted } from './units.ts'

const edgeWords: Readonly<Record<AlignEdge, string>> = {
  left: 'by their west sides',
  right: 'by their east sides',
  top: 'by their north sides',
  bottom: 'by their south sides',
  centreAcross: 'on one north-south line',
  centreUp: 'on one east-west line',
}

const things = (count: number) => formatCounted(count, 'thing')
const rows = (count: number) => formatCounted(count, 'row')
const tables = (count: number) => formatCounted(count, 'table')

/** Name of an undo step of an edit that takes several things, to stand after Undo or Redo. */
export function describeDeed(deed: EditDeed): string {
  switch (deed.deed) {
    case 'move':
    case 'turn':
    case 'remove':
    case 'paste':
      return `${deed.deed} ${things(deed.items)}`
    case 'copy':
      return `copy ${things(deed.items)}, ${formatCounted(deed.times, 'time')}`
    case 'align':
      return `align ${things(deed.items)} ${edgeWords[deed.edge]}`
    case 'space':
      return `space ${things(deed.items)} evenly, ${deed.along === 'x' ? 'west to east' : 'south to north'}`
    case 'setRowTables':
      return `make the row ${tables(deed.tables)} long`
    case 'replaceRowType':
      return `change the table type of ${rows(deed.rows)}`
    case 'splitRow':
      return 'make two rows of one'
    case 'numberTables':
      return `number ${tables(deed.tables)}`
    case 'pasteLabels':
      return `paste the labels of ${tables(deed.tables)}`
    case 'labelRows':
      return `label ${rows(deed.rows)}`
    case 'clearLabels':
      return deed.of === 'rows'
        ? `take the labels off ${rows(deed.rows)}`
        : `take the labels off the tables of ${rows(deed.rows)}`
    case 'setFoundJoint':
      return deed.found === 'absent' ? 'note a joint as not there' : 'note a joint as found otherwise'
    case 'clearFoundJoint':
      return 'take back what was found at a joint'
  }
}
