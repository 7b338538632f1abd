import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import type { Readable } from 'node:stream'
import { fail, ok, type Result } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { limits } from '../model/limits.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { fileReason } from './fileReason.ts'

export const standardInput = 'standard input'

/** Name of a file as messages give it; `-` is the pipe. */
export function shownName(name: string): string {
  return name === '-' ? standardInput : name
}

/** Bytes of a file or a pipe; a file above the limit is refused by its size before it is read. */
export async function readBytes(name: string, input: Readable): Promise<Result<Uint8Array, Problem>> {
  const where = { file: shownName(name) }
  try {
    if (name !== '-') {
      const found = await stat(name)
      if (found.isDirectory()) return fail(problem('file.missing', { reason: 'it is a folder' }, where))
      if (found.isFile() && found.size > limits.fileBytes) return fail(tooLarge(found.size, where.file))
    }
    // A pipe has no size, and a file may grow while it is read: both are cut off at the limit.
    const read = await readUpTo(name === '-' ? input : createReadStream(name), limits.fileBytes)
    return read ? ok(read) : fail(tooLarge(limits.fileBytes + 1, where.file))
  } catch (error) {
    return fail(problem('file.missing', { reason: fileReason(error) }, where))
  }
}

export async function readSite(name: string, input: Readable): Promise<Result<Site, readonly Problem[]>> {
  const bytes = await readBytes(name, input)
  return bytes.ok ? openSite(bytes.value, shownName(name)) : fail([bytes.error])
}

function tooLarge(bytes: number, file: string): Problem {
  return problem('file.tooLarge', { bytes, mostBytes: limits.fileBytes }, { file })
}

async function readUpTo(stream: Readable, most: number): Promise<Uint8Array | null> {
  const pieces: Buffer[] = []
  let length = 0
  for await (const piece of stream as AsyncIterable<Buffer>) {
    pieces.push(piece)
    length += piece.length
    if (length > most) {
      stream.destroy()
      return null
    }
  }
  return Buffer.concat(pieces)
}
