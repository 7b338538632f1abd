import type { z } from 'zod'
import { mostFindings } from '../checks/findings.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { describeFound } from './describeFound.ts'
import { issueProblem } from './issueProblem.ts'
import type { SchemaNode } from './schemaNodes.ts'
import { schemaNode } from './schemaNodes.ts'

type Path = readonly (string | number)[]
type NodeOf<K extends SchemaNode['is']> = Extract<SchemaNode, { is: K }>

/**
 * Holds parsed JSON against a schema and returns the first 50 problems, none for a document of the right
 * shape. Goes through objects and lists itself and gives zod the values in them one at a time: zod alone
 * would collect an issue for each of a million wrong items before anyone could stop it.
 */
export function checkShape(schema: z.ZodType, value: unknown): Problem[] {
  const problems: Problem[] = []
  checkValue(schema, value, [], problems)
  return problems
}

function add(problems: Problem[], found: Problem): void {
  if (problems.length < mostFindings) problems.push(found)
}

function isPlainObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function checkValue(schema: z.ZodType, value: unknown, path: Path, problems: Problem[]): void {
  if (problems.length >= mostFindings) return
  const node = schemaNode(schema)
  if (node.is === 'leaf') {
    const result = schema.safeParse(value)
    if (!result.success) add(problems, issueProblem(result.error.issues[0], value, path))
  } else if (node.is === 'nullable') {
    if (value !== null) checkValue(node.inner, value, path, problems)
  } else if (node.is === 'list') {
    if (Array.isArray(value)) checkList(node, value, path, problems)
    else add(problems, problem('value.wrong', { expected: 'a list', found: describeFound(value) }, { path }))
  } else if (!isPlainObject(value)) {
    add(problems, problem('value.wrong', { expected: 'an object', found: describeFound(value) }, { path }))
  } else if (node.is === 'object') {
    checkObject(node, value, path, problems)
  } else if (node.is === 'record') {
    checkRecord(node, value, path, problems)
  } else {
    checkChoice(node, value, path, problems)
  }
}

function checkList(node: NodeOf<'list'>, items: readonly unknown[], path: Path, problems: Problem[]): void {
  if (items.length > node.most) {
    const what = `items in ${String(path.findLast((step) => typeof step === 'string') ?? 'the list')}`
    return add(problems, problem('size.tooMany', { what, found: items.length, most: node.most }, { path }))
  }
  if (items.length < node.fewest) {
    const facts = { expected: `a list of ${node.fewest} or more`, found: describeFound(items) }
    add(problems, problem('value.wrong', facts, { path }))
  }
  for (let k = 0; k < items.length && problems.length < mostFindings; k++) {
    checkValue(node.item, items[k], [...path, k], problems)
  }
}

/** What JSON has in the place of a value that is missing, for the sentence about it. */
function describeExpected(schema: z.ZodType): string {
  const node = schemaNode(schema)
  switch (node.is) {
    case 'list':
      return 'a list'
    case 'nullable':
      return `${describeExpected(node.inner)} or null`
    case 'leaf': {
      const result = schema.safeParse(undefined)
      const found = result.success ? null : issueProblem(result.error.issues[0], undefined, [])
      return found?.code === 'value.wrong' ? found.facts.expected : 'a value'
    }
    default:
      return 'an object'
  }
}

function checkObject(
  { shape }: NodeOf<'object'>,
  value: Readonly<Record<string, unknown>>,
  path: Path,
  problems: Problem[],
): void {
  const unknown = Object.keys(value).filter((key) => !Object.hasOwn(shape, key))
  if (unknown.length > 0) {
    add(problems, problem('value.unknownKey', { keys: unknown.slice(0, mostFindings) }, { path }))
  }
  for (const [key, schema] of Object.entries(shape)) {
    const at = [...path, key]
    if (Object.hasOwn(value, key)) checkValue(schema, value[key], at, problems)
    else add(problems, problem('value.missing', { expected: describeExpected(schema) }, { path: at }))
  }
}

function checkRecord(
  node: NodeOf<'record'>,
  value: Readonly<Record<string, unknown>>,
  path: Path,
  problems: Problem[],
): void {
  for (const key of Object.keys(value)) {
    if (problems.length >= mostFindings) return
    if (node.key.safeParse(key).success) checkValue(node.value, value[key], [...path, key], problems)
    else add(problems, problem('value.unknownKey', { keys: [key] }, { path }))
  }
}

function checkChoice(
  node: NodeOf<'choice'>,
  value: Readonly<Record<string, unknown>>,
  path: Path,
  problems: Problem[],
): void {
  const name = Object.hasOwn(value, node.by) ? value[node.by] : undefined
  const option = node.options.get(name)
  if (option) return checkValue(option, value, path, problems)
  const expected = `one of ${[...node.options.keys()].map((known) => JSON.stringify(known)).join(', ')}`
  const where = { path: [...path, node.by] }
  if (name === undefined) add(problems, problem('value.missing', { expected }, where))
  else add(problems, problem('value.wrong', { expected, found: describeFound(name) }, where))
}
