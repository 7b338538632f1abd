import { assert } from '../../base/assert.ts'
import { fromV1 } from './fromV1.ts'
import type { Migration, PlainDocument } from './migration.ts'

/** The step at index n − 1 leads from version n to n + 1. Released steps are never changed. */
export const migrations: readonly Migration[] = [fromV1]

/** Brings a document from its version to the newest; each step also counts the version up. */
export function migrate(
  document: PlainDocument,
  version: number,
  steps: readonly Migration[] = migrations,
): PlainDocument {
  assert(version >= 1 && version <= steps.length + 1, `no migration starts at version ${version}`)
  let migrated = document
  for (let from = version; from <= steps.length; from++) {
    migrated = { ...steps[from - 1](migrated), version: from + 1 }
  }
  return migrated
}
