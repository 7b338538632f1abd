/** How far a request has come; stages follow each other, `fraction` counts from 0 to 1 within one. */
export interface Progress {
  readonly stage:
    | 'index'
    | 'compile'
    | 'prepare'
    | 'readings'
    | 'weigh'
    | 'explain'
    | 'currents'
    | 'coverage'
    | 'candidates'
    | 'choose'
    | 'walk'
    | 'alter'
    | 'losses'
    | 'ground'
  readonly fraction: number
}

/** Runs a request to its end without pausing, for callers that have nothing else to do. */
export function finish<T>(
  job: Generator<Progress, T>,
  onProgress: (progress: Progress) => void = () => undefined,
): T {
  let step = job.next()
  for (; !step.done; step = job.next()) onProgress(step.value)
  return step.value
}
