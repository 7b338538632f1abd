import type { NetworkAnswer } from '../engine/networkAnswer.ts'
import { jointRow, partRow } from '../engine/networkRows.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { JointRow, PartRow } from '../model/answers.ts'
import type { NameBook } from '../text/places.ts'
import { csvLine } from '../files/csvLine.ts'
import { toJson } from './json.ts'
import type { Output } from './output.ts'

/** A network with what turns its numbers into addresses and names. */
export interface NetworkTables {
  readonly answer: NetworkAnswer
  readonly index: SiteIndex
  readonly book: NameBook
}

const partColumns: readonly (keyof PartRow)[] = [
  'address',
  'label',
  'kind',
  'xM',
  'yM',
  'metalSection',
  'electricalIsland',
]

const jointColumns: readonly (keyof JointRow)[] = [
  'address',
  'kind',
  'from',
  'to',
  'medianOhm',
  'lnSpread',
  'defectRate',
  'leverage',
  'soundOhm',
  'openOhm',
  'metalBridge',
]

/** Every part and remote earth, which is nowhere: its place stays empty. One row is in memory at a time. */
function* partRows({ answer, index, book }: NetworkTables) {
  for (let part = 0; part <= answer.partCount; part++) {
    const row = partRow(answer, index, book, part)
    yield row.kind === 'remoteEarth' ? { ...row, xM: null, yM: null } : row
  }
}

function* jointRows({ answer, index }: NetworkTables) {
  for (let edge = 0; edge < answer.edgeCount; edge++) yield jointRow(answer, index, edge)
}

export async function writePartsCsv(tables: NetworkTables, output: Output): Promise<void> {
  await output.write(csvLine(partColumns))
  for (const row of partRows(tables)) await output.write(csvLine(partColumns.map((column) => row[column])))
}

export async function writeJointsCsv(tables: NetworkTables, output: Output): Promise<void> {
  await output.write(csvLine(jointColumns))
  for (const row of jointRows(tables)) await output.write(csvLine(jointColumns.map((column) => row[column])))
}

/** The same as one JSON document, written row by row. */
export async function writeNetworkJson(tables: NetworkTables, output: Output): Promise<void> {
  const { basis, notes } = tables.answer
  await output.write(`{"basis":${toJson(basis)},"notes":${toJson(notes)},"parts":[`)
  await writeItems(partRows(tables), output)
  await output.write('],"joints":[')
  await writeItems(jointRows(tables), output)
  await output.write(']}\n')
}

async function writeItems(items: Iterable<unknown>, output: Output): Promise<void> {
  let before = '\n'
  for (const item of items) {
    await output.write(before + toJson(item))
    before = ',\n'
  }
}
