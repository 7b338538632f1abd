import type { AnswerTo, RequestName } from './requests.ts'

/** An answer whose typed arrays may be handed over to another thread, and their buffers. */
export interface Transferable<A> {
  readonly answer: A
  readonly transfer: readonly ArrayBuffer[]
}

/** Requests whose arrays are those of the network that the cache keeps: only copies of them may be given away. */
const sharesArrays: ReadonlySet<RequestName> = new Set(['network'])

/** Makes ready the typed arrays of an answer (they stand at its top level) for being given away. O(copied bytes). */
export function withTransfer<N extends RequestName>(name: N, answer: AnswerTo<N>): Transferable<AnswerTo<N>> {
  const isShared = sharesArrays.has(name)
  const given: Record<string, unknown> = {}
  const transfer: ArrayBuffer[] = []
  for (const [key, value] of Object.entries(answer as object) as [string, unknown][]) {
    given[key] = value
    if (!ArrayBuffer.isView(value)) continue
    const array = value as Float64Array<ArrayBuffer>
    const own = isShared ? array.slice() : array
    given[key] = own
    transfer.push(own.buffer)
  }
  return { answer: given as unknown as AnswerTo<N>, transfer }
}
