import { siteVersion } from '../model/schema/site.ts'
import { problem } from '../model/problem.ts'
import { printable } from '../text/where.ts'
import { failed, type Command, type Outcome } from './command.ts'
import { readCommandLine } from './commandLine.ts'
import { check } from './commands/check.ts'
import { compare } from './commands/compare.ts'
import { current } from './commands/current.ts'
import { currents } from './commands/currents.ts'
import { importReadings } from './commands/importReadings.ts'
import { locate } from './commands/locate.ts'
import { network } from './commands/network.ts'
import { next } from './commands/next.ts'
import { coverage } from './commands/coverage.ts'
import { plan } from './commands/plan.ts'
import { readings } from './commands/readings.ts'
import { report } from './commands/report.ts'
import { resistance } from './commands/resistance.ts'
import { sample } from './commands/sample.ts'
import { writeCommandHelp, writeGeneralHelp } from './help.ts'
import type { Io } from './io.ts'
import { nearestWord } from './nearestWord.ts'
import { ReaderGone } from './output.ts'
import { Page } from './page.ts'
import { programVersion } from './version.ts'

export const commands: readonly Command[] = [
  check,
  network,
  resistance,
  currents,
  current,
  locate,
  next,
  plan,
  coverage,
  compare,
  sample,
  readings,
  importReadings,
  report,
]
const usage = 'groundweave COMMAND FILE [options]; --help says more.'

/** Runs the program on what was typed after its name; the exit code comes back. */
export async function runProgram(args: readonly string[], io: Io): Promise<number> {
  try {
    const { exit, errors = [] } = await runCommand(args, io)
    await io.out.flush()
    await tell(io, errors)
    return exit
  } catch (error) {
    // A reader that has seen enough is no error: whoever pipes into `head` wants no message.
    if (error instanceof ReaderGone) return 0
    throw error
  }
}

/** Nobody to tell is no reason for another exit code. */
async function tell({ err }: Io, errors: readonly string[]): Promise<void> {
  try {
    for (const error of errors) await err.write(`${error}\n`)
    await err.flush()
  } catch (error) {
    if (!(error instanceof ReaderGone)) throw error
  }
}

async function runCommand(args: readonly string[], io: Io): Promise<Outcome> {
  const [name, ...rest] = args
  const page = new Page(io.style)
  if (name === undefined) return failed([problem('command.usage', { usage, reason: 'No command is given' })])
  if (name === '--help' || name === '-h' || name === 'help') {
    writeGeneralHelp(page, commands)
    return print(io, page.toString())
  }
  if (name === '--version' || name === '-V')
    return print(io, `groundweave ${programVersion}, site file version ${siteVersion}\n`)
  const command = commands.find((candidate) => candidate.name === name)
  if (!command) return failed([unknownCommand(name)])
  if (asksForHelp(rest)) {
    writeCommandHelp(page, command)
    return print(io, page.toString())
  }
  const words = readCommandLine(command, rest)
  return words.ok ? command.run({ ...words.value, io }) : failed([words.error])
}

/** Before `--`, after which everything is an operand. */
function asksForHelp(args: readonly string[]): boolean {
  const end = args.indexOf('--')
  return (end < 0 ? args : args.slice(0, end)).some((arg) => arg === '--help' || arg === '-h')
}

function unknownCommand(given: string) {
  const known = commands.map(({ name }) => name)
  if (given.startsWith('-')) {
    const near = nearestWord(given, ['--help', '--version'])
    const reason = `There is no option ${printable(given)} here${near ? `; did you mean ${near}?` : ''}`
    return problem('command.usage', { usage, reason })
  }
  const near = nearestWord(given, known)
  return near
    ? problem('command.usage', {
        usage,
        reason: `There is no command ${printable(given)}; did you mean ${near}?`,
      })
    : problem('command.unknown', { given, known })
}

async function print(io: Io, text: string): Promise<Outcome> {
  await io.out.write(text)
  return { exit: 0 }
}
