import { readFileSync, writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { conditionsReport } from './conditionsReport.ts'
import { methodNames } from './evaluate.ts'
import { scored } from './figures.ts'
import { contactFamilies, families } from './generator/families.ts'
import { seedListHash, type SeedSet } from './generator/seeds.ts'
import type { LargeRow } from './large/largeRow.ts'
import { largeFamilies } from './large/largeFamilies.ts'
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

interface Facts {
  readonly set: SeedSet
  readonly program: string
}

function runText({ rows, sequential, large }: Results, { set, program }: Facts): string {
  const all = [...rows, ...sequential, ...large]
  const minutes = all.reduce((sum, { seconds }) => sum + seconds, 0) / 60
  const commits = [...new Set(all.map(({ commit }) => commit))].join(', ')
  const hidden = rows.filter(({ faults, visible }) => faults > 0 && visible === 0)
  const hashOf = (list: Parameters<typeof seedListHash>[1]) => `\`${seedListHash('test', list)}\``
  return [
    `${rows.length} scenarios of the ${set} seeds: ${rows.filter(({ visible }) => visible > 0).length} with a bad ` +
      `joint that could be seen, ${hidden.length} with none but hidden ones, ` +
      `${rows.filter(({ faults }) => faults === 0).length} with nothing bad. The ceiling was computed for ` +
      `${rows.filter(({ ceilingError }) => ceilingError !== null).length} of them. ` +
      `${sequential.filter(({ visible }) => visible > 0).length} arrays were followed until a bad joint was found, ` +
      `${large.length} large sites read. ${minutes.toFixed(0)} minutes of one process in all.`,
    `Program: commit ${commits}, digest \`${program}\`. Lists of test seeds, SHA-256: ${hashOf(families)}; contacts by lot ` +
      `${hashOf(contactFamilies)}; large sites ${hashOf(largeFamilies)}.`,
    `Load of the machine, average of a minute at the time of writing: ${loadavg()[0].toFixed(1)} on two cores; times play no part in the figures.`,
  ].join('\n')
}

/** Prints all tables that there are results for; writes them into the document, with the picture, if asked to. */
export function printOrWrite(root: string, results: Results, facts: Facts, isWritten: boolean): void {
  const { rows: all, sequential, large } = results
  const forContacts = new Set(contactFamilies.map(({ name }) => name))
  const rows = all.filter(({ family }) => !forContacts.has(family))
  const contactRows = all.filter(({ family }) => forContacts.has(family))
  const tables = {
    run: runText({ ...results, rows }, facts),
    ...reportTables(rows),
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
