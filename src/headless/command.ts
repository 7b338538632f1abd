import type { Problem } from '../model/problem.ts'
import { problemLine } from '../text/problems.ts'
import type { Io } from './io.ts'

export interface OptionSpec {
  /** Without the two hyphens. */
  readonly name: string
  /** What stands for its value in the help; null for one that takes none. */
  readonly value: string | null
  readonly help: string
}

/** What was typed after the name of a command, already held against what the command takes. */
export interface Call {
  readonly operands: readonly string[]
  readonly options: ReadonlyMap<string, string | true>
  readonly io: Io
}

/** Exit code, and what is to be told on standard error. */
export interface Outcome {
  readonly exit: 0 | 1 | 2
  readonly errors?: readonly string[]
}

export interface Command {
  readonly name: string
  readonly summary: string
  readonly operands: readonly string[]
  readonly options: readonly OptionSpec[]
  readonly run: (call: Call) => Promise<Outcome>
}

export const done: Outcome = { exit: 0 }

/** Problems as an outcome; those that have no file of their own are problems with what was asked of this one. */
export function failed(problems: readonly Problem[]): Outcome {
  return { exit: 2, errors: problems.map(problemLine) }
}

export function usageOf({ name, operands, options }: Command): string {
  return `groundweave ${[name, ...operands, ...(options.length > 0 ? ['[options]'] : [])].join(' ')}`
}
