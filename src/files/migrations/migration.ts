/** A document of some version as parsed JSON: nothing of its shape is known here. */
export type PlainDocument = Readonly<Record<string, unknown>>

/**
 * Turns a document of version n into one of version n + 1. It works on plain JSON and imports nothing of the
 * model: the model goes on changing, what an old file meant does not. It must accept whatever a file of
 * version n may hold, damaged ones too, and leave what it does not know for the schema to refuse.
 */
export type Migration = (document: PlainDocument) => PlainDocument
