/** Starts the engine in a worker of its own, from its file beside the page. */
export function spawnEngine(): Worker {
  return new Worker(new URL('../engine/worker.ts', import.meta.url), { type: 'module', name: 'engine' })
}
