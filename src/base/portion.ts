/**
 * Simple steps of a kernel (an entry read, an edge looked at) between two pauses: a millisecond of work or so.
 * Every loop that is longer than this on a large site is cut into portions of it. The loops themselves stand in plain
 * functions: engines run a loop in a generator several times slower.
 */
export const portionSteps = 1 << 15

/** Calls `work` for the stretches of 0 … count, a pause after each. */
export function* inPortions(
  count: number,
  work: (first: number, end: number) => void,
): Generator<number, void> {
  for (let first = 0; first < count;) {
    const end = Math.min(count, first + portionSteps)
    work(first, end)
    yield end / count
    first = end
  }
}

/** Runs a job that pauses to its end without pausing, for callers that have nothing else to do. */
export function wholly<T>(job: Generator<unknown, T>): T {
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}

/** Runs a part of a longer job, whose fractions of done it maps into [from, from + width]. */
export function* portion<T>(job: Generator<number, T>, from: number, width: number): Generator<number, T> {
  let step = job.next()
  for (; !step.done; step = job.next()) yield from + width * step.value
  return step.value
}

/** Runs a job that yields its fraction done as one stage of a longer one, with the stage's name beside it. */
export function* staged<S extends string, T>(
  stage: S,
  job: Generator<number, T>,
): Generator<{ readonly stage: S; readonly fraction: number }, T> {
  let step = job.next()
  for (; !step.done; step = job.next()) yield { stage, fraction: step.value }
  return step.value
}
