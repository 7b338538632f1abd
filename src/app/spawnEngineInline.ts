import EngineWorker from '../engine/worker.ts?worker&inline'

/** Starts the engine where the whole program is one file: pages opened from a disk allow no worker of a file beside. */
export function spawnEngine(): Worker {
  return new EngineWorker({ name: 'engine' })
}
