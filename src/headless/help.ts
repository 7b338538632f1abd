import { fullCautions } from '../text/cautions.ts'
import { usageOf, type Command } from './command.ts'
import type { Page } from './page.ts'

const addresses: readonly (readonly [string, string])[] = [
  ['R3/T7/F2.14', 'row 3, table 7: frame, 2nd row up, 14th along'],
  ['R3/T7/L1.4', 'rail 1 at station 4, between modules 3 and 4'],
  ['R3/T7/X2  R3/T7/P1.2', 'cross member 2; post 2 of line 1'],
  ['E1  B1  G1', 'enclosure, earth (ground) bar, electrode'],
  ['C5.2  earth', 'conductor 5 at its point 2; remote earth (ground)'],
]

/** What the program does, in one page. */
export function writeGeneralHelp(page: Page, commands: readonly Command[]): void {
  page.title('groundweave COMMAND FILE [options]')
  page.text(
    'Computes the bonding network of a solar array from a site file. FILE may be - for standard input.',
  )
  page.title('Commands')
  page.facts(commands.map(({ name, operands, summary }) => [`${name} ${operands.join(' ')}`, summary]))
  page.title('Options')
  page.facts([
    ['COMMAND --help', 'what a command takes'],
    ['--help, --version', 'this page; the version'],
  ])
  page.title('Addresses')
  page.facts(addresses)
  page.title('Exit codes')
  page.facts([
    ['0', 'answered'],
    ['1', 'answered: the file is not valid, or there is nothing to answer'],
    ['2', 'no answer: the reason stands on standard error'],
  ])
  page.title('Before you touch anything')
  for (const caution of fullCautions('metric')) page.text(caution, 1)
}

export function writeCommandHelp(page: Page, command: Command): void {
  page.title(usageOf(command))
  page.text(command.summary)
  page.title('Options')
  page.facts([
    ...command.options.map(
      ({ name, value, help }) => [`--${name}${value === null ? '' : ` ${value}`}`, help] as const,
    ),
    ['--help', 'this page'],
  ])
}
