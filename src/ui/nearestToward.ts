/** The thing that an arrow key leads to among things laid out on a plane; undefined for other keys and at the rim. */
export function nearestToward<Thing extends Pick<Element, 'getBoundingClientRect'>>(
  key: string,
  from: Thing,
  things: readonly Thing[],
): Thing | undefined {
  const way = ways[key]
  if (!way) return undefined
  const start = middleOf(from)
  let nearest: Thing | undefined
  let least = Infinity
  for (const thing of things) {
    const { x, y } = middleOf(thing)
    const along = (x - start.x) * way.x + (y - start.y) * way.y
    const across = Math.abs((x - start.x) * way.y) + Math.abs((y - start.y) * way.x)
    // Off the straight way counts double, and what is more aside than ahead is not in that direction.
    const cost = along + 2 * across
    if (along > 1 && across <= 1.5 * along && cost < least) {
      nearest = thing
      least = cost
    }
  }
  return nearest
}

const ways: Readonly<Record<string, { readonly x: number; readonly y: number }>> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
}

function middleOf(thing: Pick<Element, 'getBoundingClientRect'>): { x: number; y: number } {
  const { left, right, top, bottom } = thing.getBoundingClientRect()
  return { x: (left + right) / 2, y: (top + bottom) / 2 }
}
