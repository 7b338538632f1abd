export interface RowWindow {
  readonly first: number
  /** One past the last. */
  readonly end: number
}

/** Which rows of equal height have to exist for what is seen of a long list, with `spare` more on both sides. */
export function windowOf(
  scrollTopPx: number,
  heightPx: number,
  rowPx: number,
  count: number,
  spare = 4,
): RowWindow {
  const first = Math.min(Math.max(Math.floor(scrollTopPx / rowPx) - spare, 0), count)
  const end = Math.min(Math.ceil((scrollTopPx + heightPx) / rowPx) + spare, count)
  return { first, end: Math.max(end, first) }
}

/** The scroll position nearest to the present one at which a row is seen whole. */
export function scrollToShow(row: number, scrollTopPx: number, heightPx: number, rowPx: number): number {
  const top = row * rowPx
  if (top < scrollTopPx) return top
  return Math.max(scrollTopPx, top + rowPx - heightPx)
}
