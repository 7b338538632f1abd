import { present } from '../../base/assert.ts'
import { indexSite } from '../../layout/siteIndex.ts'
import { partAddressAt } from '../../layout/partIndex.ts'
import { writePartAddress } from '../../model/address.ts'
import { problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { openNameBook } from '../../text/places.ts'
import { formatCounted } from '../../text/units.ts'
import { printable } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { done, failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { largestIsland, writeGroundedLaplacian } from '../matrixMarket.ts'
import { writeJointsCsv, writeNetworkJson, writePartsCsv, type NetworkTables } from '../networkTables.ts'
import type { Output } from '../output.ts'
import { readSite } from '../readSite.ts'
import { isSameFile, writeFile } from '../writeFile.ts'

const outputNames = ['parts', 'joints', 'matrix'] as const
type OutputName = (typeof outputNames)[number]

export const network: Command = {
  name: 'network',
  summary:
    'The whole network as tables: joints as CSV on standard output where no other output is asked for.',
  operands: ['FILE'],
  options: [
    {
      name: 'parts',
      value: 'FILE.csv',
      help: 'write every part, with its place, metal section and electrical island',
    },
    {
      name: 'joints',
      value: 'FILE.csv',
      help: 'write every joint, with its ohms, leverage and what it reads open',
    },
    {
      name: 'matrix',
      value: 'FILE.mtx',
      help: 'write the grounded Laplacian of the largest electrical island (Matrix Market)',
    },
    ...networkOptions,
    jsonOption,
  ],
  run: runNetwork,
}

interface Target {
  readonly name: OutputName
  readonly file: string
}

async function runNetwork({ operands: [file], options, io }: Call): Promise<Outcome> {
  const asked = targetsOf(options)
  const clash = await clashOf(asked, file, options.has('json'))
  if (clash) return failed([problem('command.usage', { usage: usageOf(network), reason: clash })])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const answer = ask('network', networkInput(options), site.value, file)
  if (!answer.ok) return failed(answer.error)
  const indexed = indexSite(site.value.drawing)
  const index = present(indexed.ok ? indexed.value : null, 'a site that compiles can be indexed')
  const tables = { answer: answer.value, index, book: openNameBook(site.value.drawing) }
  if (options.has('json')) {
    await writeNetworkJson(tables, io.out)
    return done
  }
  const targets = asked.length > 0 ? asked : [{ name: 'joints', file: '-' } as const]
  const isQuiet = targets.some((target) => target.file === '-')
  for (const target of targets) {
    const write = (output: Output) => writeTarget(target.name, tables, site.value, output)
    if (target.file === '-') await write(io.out)
    else {
      const written = await writeFile(target.file, write)
      if (!written.ok) return { exit: 2, errors: [written.error] }
      if (!isQuiet) await io.out.write(`${describeTarget(target, tables)}\n`)
    }
  }
  return done
}

function targetsOf(options: Call['options']): Target[] {
  return outputNames.flatMap((name) => {
    const file = options.get(name)
    return typeof file === 'string' ? [{ name, file }] : []
  })
}

/** Two outputs into one place would mix, and an output over the site file would lose it. */
async function clashOf(
  targets: readonly Target[],
  siteFile: string,
  isJson: boolean,
): Promise<string | null> {
  if (isJson && targets.length > 0)
    return `--json writes everything to standard output; leave out --${targets[0].name}`
  for (const [k, { name, file }] of targets.entries()) {
    const other = targets.slice(0, k).find((earlier) => earlier.file === file)
    if (other) return `--${other.name} and --${name} would be written to one place`
    if (file === '-') continue
    if (file === siteFile || (siteFile !== '-' && (await isSameFile(file, siteFile))))
      return `--${name} would be written over the site file itself`
  }
  return null
}

async function writeTarget(
  name: OutputName,
  tables: NetworkTables,
  site: Site,
  output: Output,
): Promise<void> {
  if (name === 'parts') return writePartsCsv(tables, output)
  if (name === 'joints') return writeJointsCsv(tables, output)
  const island = largestIsland(tables.answer)
  const reference = writePartAddress(partAddressAt(tables.index, island.reference))
  const comments = [
    `site: ${printable(site.name)}`,
    `drawing revision: ${site.drawing.revision}`,
    `reference part: ${reference}`,
    `electrical island: ${island.island}`,
    'siemens; row k is the k-th part of this island in the order of --parts, the reference left out; then places in soil',
  ]
  return writeGroundedLaplacian(tables.answer, island, comments, output)
}

function describeTarget({ name, file }: Target, { answer }: NetworkTables): string {
  const what = {
    parts: () => `${formatCounted(answer.partCount, 'part')} and remote earth`,
    joints: () => formatCounted(answer.edgeCount, 'joint'),
    matrix: () => `matrix of ${formatCounted(largestIsland(answer).nodes.length, 'row')}`,
  }
  return `${file}: ${what[name]()}`
}
