import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { siteJsonSchema } from '../../src/files/jsonSchema.ts'
import { siteVersion } from '../../src/model/schema/site.ts'

/**
 * A digest of the shape for every version there has been. A released version's shape does not change any more:
 * a change is a new version with a migration, fixtures of the old one, and a line here.
 */
const shapes: Readonly<Record<number, string>> = {
  1: '7cb7eebf8e697be46103991baf4b8e7114866c0d5edf35b188d4eefd2df557fa',
  2: 'c1a68df413bbb570150232d1f7e7da971dc654aef001f35baeedca7bc02c9ad0',
}

describe('the JSON Schema of a site file', () => {
  it('is the one that is published; `vitest --project node -u tests/files/jsonSchema.test.ts` writes it anew', async () => {
    await expect(siteJsonSchema()).toMatchFileSnapshot('../../docs/site.schema.json')
  })

  it('does not change without a new version', () => {
    const digest = createHash('sha256').update(siteJsonSchema()).digest('hex')
    expect(digest).toBe(shapes[siteVersion])
  })

  it('describes every field, refuses others, and says nothing of who may write', () => {
    const schema = JSON.parse(siteJsonSchema()) as {
      required: string[]
      additionalProperties: boolean
      properties: { drawing: { required: string[]; properties: object } }
    }
    expect(schema.required).toEqual(['format', 'version', 'id', 'name', 'drawing', 'record'])
    expect(schema.additionalProperties).toBe(false)
    const { drawing } = schema.properties
    expect(drawing.required).toEqual(Object.keys(drawing.properties))
    expect(siteJsonSchema()).not.toContain('readOnly')
  })
})
