import '../files/withoutEval.ts'
import type { ToWorker } from './protocol.ts'
import { workerCore } from './workerCore.ts'
import { holdLifeLock, ownLocks } from './workerWatch.ts'

// A message to oneself comes after the messages that wait already, and without the delay of a timer.
const { port1, port2 } = new MessageChannel()
let next: (() => void) | null = null
port1.onmessage = () => {
  const turn = next
  next = null
  turn?.()
}

const hear = workerCore({
  now: () => performance.now(),
  later(turn) {
    next = turn
    port2.postMessage(null)
  },
  post: (message, transfer) => self.postMessage(message, { transfer: [...transfer] }),
})

self.onmessage = ({ data }: MessageEvent<ToWorker>) => hear(data)
holdLifeLock(
  ownLocks(),
  () => `engine ${crypto.randomUUID()}`,
  (lifeLock) => self.postMessage({ kind: 'ready', lifeLock }),
)
