import { assert } from '../../base/assert.ts'

/** A document of some version as parsed JSON: nothing of its shape is known here. */
export type PlainDocument = Readonly<Record<string, unknown>>

/**
 * Turns a document of version n into one of version n + 1. It works on plain JSON and imports nothing of the
 * model: the model goes on changing, what an old file meant does not. It must accept whatever a file of
 * version n may hold, damaged ones too, and leave what it does not know for the schema to refuse.
 */
export type Migration = (document: PlainDocument) => PlainDocument

/** The step at index n − 1 leads from version n to n + 1. Released steps are never changed. */
export const migrations: readonly Migration[] = []

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
