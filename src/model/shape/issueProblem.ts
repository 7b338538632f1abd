import type { z } from 'zod'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { describeFound } from './describeFound.ts'

type Issue = z.core.$ZodIssue

const typeWords: Readonly<Record<string, string>> = {
  string: 'text in quotation marks',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
}

const formatWords: Readonly<Record<string, string>> = {
  uuid: 'a UUID',
  date: 'a date like 2026-05-31',
  datetime: 'a time with its zone, like 2026-05-31T09:30:00Z',
}

const oneOf = (values: readonly unknown[]) =>
  `${values.length > 1 ? 'one of ' : ''}${values.map((value) => JSON.stringify(value)).join(', ')}`

function bound(issue: Extract<Issue, { code: 'too_big' | 'too_small' }>): string {
  const unit = issue.origin === 'string' ? ' characters' : ''
  if (issue.code === 'too_big')
    return `${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}${unit}`
  return `${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}${unit}`
}

/** What zod says of a single value (no list or object), as one of our problems. */
export function issueProblem(issue: Issue, value: unknown, path: readonly (string | number)[]): Problem {
  const where = { path }
  const found = describeFound(value)
  switch (issue.code) {
    case 'invalid_type': {
      const expected = typeWords[issue.expected] ?? issue.expected
      const isTooLarge = value === Infinity || value === -Infinity
      return problem(isTooLarge ? 'value.outOfRange' : 'value.wrong', { expected, found }, where)
    }
    case 'invalid_value':
      return problem('value.wrong', { expected: oneOf(issue.values), found }, where)
    case 'too_big':
    case 'too_small': {
      const length = typeof value === 'string' ? `${value.length} characters` : found
      return problem('value.outOfRange', { expected: bound(issue), found: length }, where)
    }
    case 'invalid_format': {
      const expected = formatWords[issue.format] ?? (issue.format === 'regex' ? issue.message : issue.format)
      return problem('value.wrong', { expected, found }, where)
    }
    case 'invalid_union': {
      const values = issue.errors
        .flat()
        .flatMap((inner) => (inner.code === 'invalid_value' ? inner.values : []))
      return problem('value.wrong', { expected: oneOf(values), found }, where)
    }
    default:
      return problem('value.wrong', { expected: issue.message, found }, where)
  }
}
