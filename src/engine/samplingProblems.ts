import { problem, type Problem } from '../model/problem.ts'
import type { SampleInput } from '../model/planning.ts'

const mostSeed = 2 ** 32 - 1
const mostFailures = 1000

/** What is wrong with the numbers of a question about a sample, each with its name. */
export function samplingProblems(input: SampleInput): readonly Problem[] {
  const { mostBadShare, confidence, failuresAllowed, perTable, correlation, seed } = input
  const isCount = (value: number, least: number, most: number) =>
    Number.isInteger(value) && value >= least && value <= most
  const checks: readonly (readonly [string, number | null, boolean, string])[] = [
    ['mostBadShare', mostBadShare, mostBadShare > 0 && mostBadShare <= 1, 'a share above 0, at most 1'],
    ['confidence', confidence, confidence > 0 && confidence < 1, 'a chance between 0 and 1'],
    [
      'failuresAllowed',
      failuresAllowed,
      isCount(failuresAllowed, 0, mostFailures),
      `a whole number from 0 to ${mostFailures}`,
    ],
    ['perTable', perTable, perTable === null || isCount(perTable, 1, 1e6), 'a whole number from 1 on'],
    ['correlation', correlation, correlation >= 0 && correlation <= 1, 'a number from 0 to 1'],
    ['seed', seed, isCount(seed, 0, mostSeed), `a whole number from 0 to ${mostSeed}`],
  ]
  return checks.flatMap(([name, found, isRight, expected]) =>
    isRight ? [] : [problem('value.outOfRange', { expected, found: String(found) }, { path: [name] })],
  )
}
