import { expect } from 'vitest'

/** Runs a job without pausing and checks that the fractions it reports stay in [0, 1] and never fall. */
export function runToEnd<T>(job: Generator<number, T>): T {
  let reached = 0
  let step = job.next()
  for (; !step.done; step = job.next()) {
    expect(step.value).toBeGreaterThan(reached - 1e-12)
    expect(step.value).toBeLessThan(1 + 1e-12)
    reached = step.value
  }
  return step.value
}
