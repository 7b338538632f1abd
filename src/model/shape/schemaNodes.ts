import type { z } from 'zod'

/** What a part of the schema is, with `readonly` taken off; `leaf` is for zod alone. */
export type SchemaNode =
  | { readonly is: 'object'; readonly shape: Readonly<Record<string, z.ZodType>> }
  | { readonly is: 'list'; readonly item: z.ZodType; readonly fewest: number; readonly most: number }
  | { readonly is: 'record'; readonly key: z.ZodType; readonly value: z.ZodType }
  | { readonly is: 'nullable'; readonly inner: z.ZodType }
  | { readonly is: 'choice'; readonly by: string; readonly options: ReadonlyMap<unknown, z.ZodType> }
  | { readonly is: 'leaf' }

const leaf: SchemaNode = { is: 'leaf' }
const known = new WeakMap<z.ZodType, SchemaNode>()

function lookInto(schema: z.ZodType): SchemaNode {
  const { def } = schema as z.ZodObject | z.ZodArray | z.ZodRecord | z.ZodNullable | z.ZodReadonly
  switch (def.type) {
    case 'readonly':
    case 'nullable': {
      const inner = def.innerType as z.ZodType
      return def.type === 'readonly' ? schemaNode(inner) : { is: 'nullable', inner }
    }
    case 'object':
      return { is: 'object', shape: def.shape }
    case 'array': {
      let fewest = 0
      let most = Infinity
      for (const check of def.checks ?? []) {
        const bound = check._zod.def as z.core.$ZodCheckMinLengthDef | z.core.$ZodCheckMaxLengthDef
        if (bound.check === 'min_length') fewest = Math.max(fewest, bound.minimum)
        else if (bound.check === 'max_length') most = Math.min(most, bound.maximum)
      }
      return { is: 'list', item: def.element as z.ZodType, fewest, most }
    }
    case 'record':
      return { is: 'record', key: def.keyType as z.ZodType, value: def.valueType as z.ZodType }
    default:
      return choiceOf(schema)
  }
}

function choiceOf(schema: z.ZodType): SchemaNode {
  const { def } = schema as z.ZodDiscriminatedUnion
  if ((def.type as string) !== 'union' || !('discriminator' in def)) return leaf
  const options = new Map<unknown, z.ZodType>()
  for (const option of def.options as unknown as z.ZodType[]) {
    const node = schemaNode(option)
    const names = node.is === 'object' ? (node.shape[def.discriminator] as z.ZodLiteral).values : []
    for (const name of names) options.set(name, option)
  }
  return { is: 'choice', by: def.discriminator, options }
}

/** Looks into the schema: what checking piece by piece and writing in the schema's order need to know of it. */
export function schemaNode(schema: z.ZodType): SchemaNode {
  let node = known.get(schema)
  if (!node) {
    node = lookInto(schema)
    known.set(schema, node)
  }
  return node
}
