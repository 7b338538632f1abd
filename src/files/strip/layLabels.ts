export interface LaidLabel<T> {
  readonly label: T
  /** Row that it stands in, from 0, counted up from what it belongs to. */
  readonly lane: number
}

/** Width of a letter as a share of the size of the font: a little more than that of most. */
const letterShare = 0.58

/**
 * Rows for labels that begin at their x and have a line straight down from it, so that no label lies over another one and no line
 * crosses a label: from right to left, each in the lowest row that is free. O(labels²).
 */
export function layLabels<T extends { readonly x: number; readonly text: string }>(
  labels: readonly T[],
  widthPx: number,
  fontPx: number,
): readonly LaidLabel<T>[] {
  /** In each row, where what stands in it or goes through it begins. */
  const free: number[] = []
  return [...labels]
    .sort((a, b) => b.x - a.x)
    .map((label) => {
      const end = Math.min(widthPx, label.x + 6 + label.text.length * fontPx * letterShare)
      const found = free.findIndex((from) => from >= end)
      const lane = found < 0 ? free.length : found
      // its line goes down through the rows below
      for (let row = 0; row <= lane; row++) free[row] = label.x
      return { label, lane }
    })
}
