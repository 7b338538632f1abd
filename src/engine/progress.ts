/** How far a request has come; stages follow each other, `fraction` counts from 0 to 1 within one. */
export interface Progress {
  readonly stage: 'index' | 'compile' | 'prepare' | 'readings' | 'weigh' | 'explain' | 'currents'
  readonly fraction: number
}

/** A job of one stage that yields its fraction, as steps of a request. */
export function* staged<T>(stage: Progress['stage'], job: Generator<number, T>): Generator<Progress, T> {
  let step = job.next()
  for (; !step.done; step = job.next()) yield { stage, fraction: step.value }
  return step.value
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
