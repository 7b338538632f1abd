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
