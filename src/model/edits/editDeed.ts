import type { AlignEdge } from './arrangeItems.ts'

/** Names of undo steps of edits that take several things, beside those of the drawing tools (`drawDeed.ts`). */
export type EditDeed =
  | { readonly deed: 'move' | 'turn' | 'remove' | 'paste'; readonly items: number }
  | { readonly deed: 'copy'; readonly items: number; readonly times: number }
  | { readonly deed: 'align'; readonly items: number; readonly edge: AlignEdge }
  | { readonly deed: 'space'; readonly items: number; readonly along: 'x' | 'y' }
  | { readonly deed: 'setRowTables'; readonly tables: number }
  | { readonly deed: 'replaceRowType'; readonly rows: number }
  | { readonly deed: 'numberTables' | 'pasteLabels'; readonly tables: number }
  | { readonly deed: 'labelRows'; readonly rows: number }
  | { readonly deed: 'clearLabels'; readonly of: 'tables' | 'rows'; readonly rows: number }
  | { readonly deed: 'setFoundJoint'; readonly found: 'absent' | 'other' }
  | { readonly deed: 'splitRow' | 'clearFoundJoint' }
