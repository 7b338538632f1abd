import { describe, expect, it } from 'vitest'
import type { RandomStream } from '../../src/base/random.ts'
import { randomStream } from '../../src/base/random.ts'
import { siteSchema } from '../../src/model/schema/site.ts'
import { checkShape } from '../../src/model/shape/checkShape.ts'
import { exampleSite } from '../model/exampleSite.ts'

type Plain = Record<string, unknown>

const replacements: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1.5,
  1e12,
  Infinity,
  '',
  'x',
  'B1',
  '2026-01-01',
  [],
  [1],
  {},
  { x: 1 },
  'a'.repeat(20_000),
]

/** Every object and list in a document. */
function nodes(value: unknown, found: Plain[] = []): Plain[] {
  if (typeof value === 'object' && value !== null) {
    found.push(value as Plain)
    for (const inner of Object.values(value)) nodes(inner, found)
  }
  return found
}

function damage(document: unknown, random: RandomStream): void {
  const all = nodes(document)
  const node = all[random.integer(all.length)]
  const keys = Object.keys(node)
  const key = keys[random.integer(keys.length)]
  const kind = random.integer(4)
  if (Array.isArray(node)) {
    if (kind === 0) node.length = 0
    else if (kind === 1) node.push(replacements[random.integer(replacements.length)])
    else if (kind === 2) node.push(...Array.from({ length: 100_001 }, () => node[0] as unknown))
    else if (key !== undefined)
      node[key as unknown as number] = replacements[random.integer(replacements.length)]
  } else if (kind === 0) node[`other${random.integer(9)}`] = 1
  else if (kind === 1) delete node[key]
  else node[key] = replacements[random.integer(replacements.length)]
}

describe('checking piece by piece', () => {
  it('accepts and refuses exactly what the schema as a whole does', () => {
    const random = randomStream(3)
    let refused = 0
    const trials = 500
    for (let trial = 0; trial < trials; trial++) {
      const document = structuredClone(exampleSite())
      damage(document, random)
      const whole = siteSchema.safeParse(document).success
      expect(checkShape(siteSchema, document).length === 0).toBe(whole)
      if (!whole) refused++
    }
    expect(refused).toBeGreaterThan(trials / 2)
    expect(refused).toBeLessThan(trials)
  })
})
