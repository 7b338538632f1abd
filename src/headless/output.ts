import type { Writable } from 'node:stream'

/** Where text goes: standard output or a file. */
export interface Output {
  write(text: string): Promise<void>
  /** Writes what is still held back. */
  flush(): Promise<void>
}

/** The reader has gone (`… | head`): no error, there is just nobody left to write to. */
export class ReaderGone extends Error {}

const heldBack = 64 * 1024

/** Writes in pieces of some 64 KB and waits for a slow reader, so that a million rows need no memory. */
export function streamOutput(stream: Writable): Output {
  let held: string[] = []
  let length = 0
  let failure: NodeJS.ErrnoException | null = null
  stream.on('error', (error: NodeJS.ErrnoException) => (failure ??= error))

  const send = (text: string) =>
    new Promise<void>((resolve, reject) => {
      if (failure) return reject(asReaderGone(failure))
      stream.write(text, (error) => (error ? reject(asReaderGone(error)) : resolve()))
    })
  const flush = async () => {
    const text = held.join('')
    held = []
    length = 0
    if (text !== '') await send(text)
  }
  return {
    async write(text) {
      held.push(text)
      length += text.length
      if (length >= heldBack) await flush()
    },
    flush,
  }
}

function asReaderGone(error: NodeJS.ErrnoException): Error {
  const isGone = error.code === 'EPIPE' || error.code === 'ERR_STREAM_DESTROYED'
  return isGone ? new ReaderGone(error.message) : error
}
