/** What is chosen, on the map or in a list: one selection for both. */
export type Picked =
  | { readonly kind: 'part'; readonly address: string }
  | { readonly kind: 'joint'; readonly address: string }
  | { readonly kind: 'table'; readonly row: number; readonly table: number }
  | { readonly kind: 'reading'; readonly entry: string }
  /** A group of suspects, named by its likeliest joint. */
  | { readonly kind: 'suspect'; readonly joint: string }

/** Whether two picks mean the same thing. */
export function isSamePick(a: Picked | null, b: Picked | null): boolean {
  if (a === b) return true
  return a !== null && b !== null && JSON.stringify(a) === JSON.stringify(b)
}
