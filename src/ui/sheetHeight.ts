export const sheetHeights = ['low', 'half', 'full'] as const
export type SheetHeight = (typeof sheetHeights)[number]

/** Of the place that the sheet rises in. */
export const shareOf: Readonly<Record<SheetHeight, number>> = { low: 0.2, half: 0.45, full: 0.94 }

/** How far a sheet is pulled before it leaves its height, as a share of the place. */
const leavesAfter = 0.06

/** Where a sheet comes to rest that was let go at `share`, having stood at `from`: a clear pull always counts. */
export function nearestHeight(share: number, from: SheetHeight): SheetHeight {
  const pulled = share - shareOf[from]
  if (Math.abs(pulled) < leavesAfter) return from
  const ahead = sheetHeights.filter((height) => (shareOf[height] - shareOf[from]) * pulled > 0)
  const distance = (height: SheetHeight) => Math.abs(shareOf[height] - share)
  return ahead.reduce((best, height) => (distance(height) < distance(best) ? height : best), ahead[0] ?? from)
}
