import { parseArgs } from 'node:util'
import { fail, ok, type Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import { formatCounted, inWords } from '../text/units.ts'
import { quoted } from '../text/where.ts'
import { usageOf, type Call, type Command, type OptionSpec } from './command.ts'
import { nearestWord } from './nearestWord.ts'

type Words = Omit<Call, 'io'>

/** Holds what was typed against what a command takes. Every slip is told with the usage and, if close, what was meant. */
export function readCommandLine(command: Command, args: readonly string[]): Result<Words, Problem> {
  const wrong = (reason: string) => fail(problem('command.usage', { usage: usageOf(command), reason }))
  const operands: string[] = []
  const options = new Map<string, string | true>()
  for (const token of tokensOf(command.options, args)) {
    if (token.kind === 'positional') operands.push(token.value)
    if (token.kind !== 'option') continue
    const spec = command.options.find(({ name }) => name === token.name)
    if (!spec) return wrong(unknownOption(token.rawName, command.options))
    if (options.has(spec.name)) return wrong(`${token.rawName} is given twice`)
    if (spec.value === null && token.value !== undefined) return wrong(`${token.rawName} takes no value`)
    const value = spec.value === null ? true : token.value
    if (value === undefined || value === '') return wrong(`${token.rawName} needs a value, ${spec.value}`)
    options.set(spec.name, value)
  }
  if (operands.length === command.operands.length) return ok({ operands, options })
  return wrong(wrongCount(command.operands, operands))
}

function tokensOf(specs: readonly OptionSpec[], args: readonly string[]) {
  const options = Object.fromEntries(
    specs.map(({ name, value }) => [
      name,
      { type: value === null ? ('boolean' as const) : ('string' as const) },
    ]),
  )
  return parseArgs({ args: [...args], options, allowPositionals: true, strict: false, tokens: true }).tokens
}

function unknownOption(given: string, specs: readonly OptionSpec[]): string {
  const names = specs.map(({ name }) => `--${name}`)
  const near = nearestWord(given, names)
  const hint = near
    ? `did you mean ${near}?`
    : names.length > 0
      ? `there are ${inWords(names)}`
      : 'it takes none'
  return `There is no option ${quoted(given)} here; ${hint}`
}

function wrongCount(wanted: readonly string[], given: readonly string[]): string {
  const missing = wanted.slice(given.length)
  if (missing.length > 0) return `${inWords(missing)} ${missing.length === 1 ? 'is' : 'are'} missing`
  const extra = given.slice(wanted.length).map((word) => quoted(word))
  return `${formatCounted(extra.length, 'word')} too many: ${inWords(extra)}`
}

/** The value of an option that counts, from 1; undefined where it is not given. */
export function readCount(
  command: Command,
  options: Call['options'],
  name: string,
): Result<number | undefined, Problem> {
  const text = options.get(name)
  if (typeof text !== 'string') return ok(undefined)
  if (/^[1-9][0-9]{0,8}$/.test(text)) return ok(Number(text))
  const reason = `--${name} takes a whole number from 1 on, not ${quoted(text)}`
  return fail(problem('command.usage', { usage: usageOf(command), reason }))
}
