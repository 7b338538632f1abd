import { problem } from '../model/problem.ts'
import { done, failed, usageOf, type Command, type Outcome } from './command.ts'
import type { Io } from './io.ts'
import type { Output } from './output.ts'
import { isSameFile, writeFile } from './writeFile.ts'

/** Where an answer goes: standard output, or a file that is none of those that were read. */
export async function writeTo(
  command: Command,
  option: string,
  target: string | true | undefined,
  readFiles: readonly string[],
  io: Io,
  write: (output: Output) => Promise<void>,
): Promise<Outcome> {
  if (typeof target !== 'string' || target === '-') {
    await write(io.out)
    return done
  }
  for (const file of readFiles) {
    if (file !== target && (file === '-' || !(await isSameFile(file, target)))) continue
    const reason = `--${option} would be written over ${file}`
    return failed([problem('command.usage', { usage: usageOf(command), reason })])
  }
  const written = await writeFile(target, write)
  return written.ok ? done : { exit: 2, errors: [written.error] }
}
