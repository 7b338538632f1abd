import { createWriteStream } from 'node:fs'
import { rename, rm, stat } from 'node:fs/promises'
import { finished } from 'node:stream/promises'
import { fail, ok, type Result } from '../base/result.ts'
import { describeNotWritten } from '../text/problems.ts'
import { fileReason } from './fileReason.ts'
import { streamOutput, type Output } from './output.ts'

/**
 * Writes a file beside its place and moves it there when it is whole, so that a full disk or an interrupted
 * run leaves the older file as it was. What is no plain file (a device, a pipe) is written to directly.
 */
export async function writeFile(
  name: string,
  write: (output: Output) => Promise<void>,
): Promise<Result<null, string>> {
  try {
    const old = await stat(name).catch(() => null)
    const aside = old && !old.isFile() ? name : `${name}.${process.pid}.part`
    await writeWhole(aside, write)
    if (aside !== name) await rename(aside, name)
    return ok(null)
  } catch (error) {
    return fail(describeNotWritten(name, fileReason(error)))
  }
}

async function writeWhole(name: string, write: (output: Output) => Promise<void>): Promise<void> {
  const stream = createWriteStream(name)
  const output = streamOutput(stream)
  try {
    await write(output)
    await output.flush()
    stream.end()
    await finished(stream)
  } catch (error) {
    stream.destroy()
    if (name.endsWith('.part')) await rm(name, { force: true })
    throw error
  }
}

/** Whether two names stand for one file, by device and number, so that no link hides it. */
export async function isSameFile(one: string, other: string): Promise<boolean> {
  const [a, b] = await Promise.all([one, other].map((name) => stat(name).catch(() => null)))
  return a !== null && b !== null && a.isFile() && a.dev === b.dev && a.ino === b.ino
}
