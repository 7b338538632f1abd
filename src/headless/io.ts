import type { Readable } from 'node:stream'
import type { Output } from './output.ts'
import type { PageStyle } from './page.ts'

/** What a command may touch of the world around it. */
export interface Io {
  readonly out: Output
  readonly err: Output
  readonly input: Readable
  readonly style: PageStyle
}
