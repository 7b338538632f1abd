/** Runs a job that pauses, to its end: nothing else waits here. */
export function toEnd<T>(job: Generator<unknown, T>): T {
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}
