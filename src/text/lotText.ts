import { formatCounted } from './units.ts'
import { printable } from './where.ts'

/** Words of the dialog in which a sample of a plan is drawn by lot. */
export const lotTexts = {
  title: 'Test a sample, drawn by lot',
  open: 'Sample by lot',
  how: 'Where not every pair of the plan can be read, a sample drawn by lot speaks for all of them. A failure in it asks for more.',
  bad: 'Less than this share is to be bad',
  confidence: 'How sure',
  failures: 'Failures that still pass',
  seed: 'Seed of the draw',
  seedHint: 'The same seed draws the same sample.',
  byTable: 'Draw tables, then pairs on each',
  byTableHint: 'Less walking. Joints of one table share a crew and a day, so that more have to be read.',
  perTable: 'Pairs on each table',
  draw: 'Draw',
  again: 'Draw again',
  drawing: 'it is being drawn',
  drawFirst: 'nothing is drawn yet',
  keep: 'Keep as a plan of its own',
  cancel: 'Close',
  planName: (plan: string, pairs: number) =>
    `${printable(plan, 150)}, sample of ${formatCounted(pairs, 'pair')}`,
} as const
