import { z } from 'zod'
import { siteSchema } from '../model/schema/site.ts'

// `readOnly` would tell a reader of the schema that the owner of the file refuses changes; we mean our types.
const override = ({ jsonSchema }: { jsonSchema: { readOnly?: boolean } }) => {
  delete jsonSchema.readOnly
}

/** JSON Schema (draft 2020-12) of a site file, as published in docs/site.schema.json. */
export function siteJsonSchema(): string {
  const schema = { title: 'Groundweave site file, version 1', ...z.toJSONSchema(siteSchema, { override }) }
  return `${JSON.stringify(schema, null, 2)}\n`
}
