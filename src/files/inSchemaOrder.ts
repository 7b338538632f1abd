import type { z } from 'zod'
import { schemaNode } from '../model/shape/schemaNodes.ts'

/**
 * The same value with the keys of every object in the order in which the schema lists them, and those of
 * records by number. What the schema does not know is kept, behind the rest: saving never drops anything.
 */
export function inSchemaOrder(schema: z.ZodType, value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value
  const node = schemaNode(schema)
  switch (node.is) {
    case 'nullable':
      return inSchemaOrder(node.inner, value)
    case 'list':
      return Array.isArray(value) ? value.map((item) => inSchemaOrder(node.item, item)) : value
    case 'object':
      return orderObject(node.shape, value as Record<string, unknown>)
    case 'record': {
      const keys = Object.keys(value).sort((a, b) => Number(a) - Number(b))
      return Object.fromEntries(
        keys.map((key) => [key, inSchemaOrder(node.value, (value as Record<string, unknown>)[key])]),
      )
    }
    case 'choice': {
      const option = node.options.get((value as Record<string, unknown>)[node.by])
      return option ? inSchemaOrder(option, value) : value
    }
    case 'leaf':
      return value
  }
}

function orderObject(shape: Readonly<Record<string, z.ZodType>>, value: Record<string, unknown>): unknown {
  const known = Object.keys(shape).filter((key) => Object.hasOwn(value, key))
  const others = Object.keys(value).filter((key) => !Object.hasOwn(shape, key))
  return Object.fromEntries([
    ...known.map((key) => [key, inSchemaOrder(shape[key], value[key])] as const),
    ...others.map((key) => [key, value[key]] as const),
  ])
}
