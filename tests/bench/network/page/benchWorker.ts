import '../../../../src/files/withoutEval.ts'
import { workRounds } from '../rounds.ts'

self.onmessage = ({ data }: MessageEvent<{ bytes: ArrayBuffer; rounds: number }>) => {
  self.postMessage(workRounds(new Uint8Array(data.bytes), data.rounds, { now: () => performance.now() }))
}
