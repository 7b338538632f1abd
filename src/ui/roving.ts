export type Direction = 'horizontal' | 'vertical'

const steps: Readonly<Record<Direction, Readonly<Record<string, number>>>> = {
  horizontal: { ArrowLeft: -1, ArrowRight: 1 },
  vertical: { ArrowUp: -1, ArrowDown: 1 },
}

/**
 * Where a key takes one among `count` things of which one has the focus; null where the key is not for moving.
 * `page` is how many Page Up and Page Down pass over. With `isRound` the last is followed by the first.
 */
export function movedIndex(
  key: string,
  index: number,
  count: number,
  { direction, page = 0, isRound = false }: { direction: Direction; page?: number; isRound?: boolean },
): number | null {
  if (count === 0) return null
  const last = count - 1
  const within = (wanted: number) => Math.min(Math.max(wanted, 0), last)
  if (key === 'Home') return 0
  if (key === 'End') return last
  if (page > 0 && key === 'PageUp') return within(index - page)
  if (page > 0 && key === 'PageDown') return within(index + page)
  const step = steps[direction][key]
  if (step === undefined) return null
  if (isRound) return (index + step + count) % count
  return within(index + step)
}
