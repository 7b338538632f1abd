import { readFileSync, writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { conditionsReport } from './conditionsReport.ts'
import { methodNames } from './evaluate.ts'
import { scored } from './figures.ts'
import { contactFamilies, families } from './generator/families.ts'
import { seedListHash, type SeedSet } from './generator/seeds.ts'
import type { LargeRow } from './large/largeRow.ts'
import { largeReport } from './largeReport.ts'
import { betweenMarks } from './markdown.ts'
import { reliabilityPicture } from './reliabilityPicture.ts'
import { reportTables } from './report.ts'
import type { Row } from './results.ts'
import { binned } from './scores/calibration.ts'
import type { SequentialRow } from './sequential/sequentialRow.ts'
import { sequentialReport } from './sequentialReport.ts'

export interface Results {
  readonly rows: readonly Row[]
  readonly sequential: readonly SequentialRow[]
  readonly large: readonly LargeRow[]
}

const lines = [
  ['engine', '#0b5fad'],
  ['ceiling', '#2f8f4e'],
  ['gaussian', '#b3541e'],
] as const

/** Prints all tables that there are results for; writes them into the document, with the picture, if asked to. */
export function printOrWrite(
  root: string,
  { rows: all, sequential, large }: Results,
  { set, program }: { readonly set: SeedSet; readonly program: string },
  isWritten: boolean,
): void {
  const forContacts = new Set(contactFamilies.map(({ name }) => name))
  const rows = all.filter(({ family }) => !forContacts.has(family))
  const contactRows = all.filter(({ family }) => forContacts.has(family))
  const facts = { testSeedHash: seedListHash('test', families), program, set, load: loadavg()[0] }
  const tables = {
    ...reportTables(rows, facts),
    ...conditionsReport(rows, contactRows),
    ...sequentialReport(sequential),
    ...largeReport(large),
  }
  for (const [name, table] of Object.entries(tables)) console.log(`\n${name}\n${table}`)
  if (!isWritten) return
  const document = join(root, 'docs', 'locating.md')
  writeFileSync(document, betweenMarks(readFileSync(document, 'utf8'), tables))
  writeFileSync(
    join(root, 'docs', 'pictures', 'locating-reliability.svg'),
    reliabilityPicture(
      'Stated chances and what came of them',
      lines.map(([name, colour]) => ({
        name: methodNames[name],
        colour,
        bins: binned(scored(rows, name).flatMap(({ score }) => score.states)),
      })),
    ),
  )
}
