import { createHash } from 'node:crypto'
import type { Family } from './families.ts'

/** Development seeds may be looked at while the program is mended; test seeds only for the figures. */
export type SeedSet = 'test' | 'dev'
const firstOf = { test: 0x40000000, dev: 0x10000000 } as const
export const seedsPerFamily = 1000

/** Frozen: the k-th scenario of a family, k from 0. */
export function seedOf(set: SeedSet, { number }: Pick<Family, 'number'>, k: number): number {
  return firstOf[set] + number * 100_000 + k
}

/** SHA-256 of the list of seeds, family after family, by which one sees that it has not been changed. */
export function seedListHash(set: SeedSet, families: readonly Pick<Family, 'number' | 'name'>[]): string {
  const lines = families.map(
    (each) =>
      `${each.name}: ${Array.from({ length: seedsPerFamily }, (_, k) => seedOf(set, each, k)).join(' ')}`,
  )
  return createHash('sha256').update(lines.join('\n')).digest('hex')
}
