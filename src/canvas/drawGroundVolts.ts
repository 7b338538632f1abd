import type { GroundPicture } from '../state/mapMarks.ts'
import { groundContours } from './groundContours.ts'
import { fillWhole, strokeLine } from './rasteriser.ts'
import type { Sight } from './sight.ts'
import { groundInks, voltClass } from './voltSteps.ts'

/** Widths of the lines of equal volts, in CSS pixels: more volts, thicker. */
export const groundLinePx = [1, 1.25, 1.6, 2.1, 2.7] as const

/** The ground’s volts as steps of grey under the array, and a line where each step begins. O(pixels + cells of the grid). */
export function drawGroundVolts(sight: Sight, ground: GroundPicture): void {
  if (sight.raster.shapes) drawAreas(sight, ground)
  else drawBands(sight, ground)
  drawLines(sight, ground)
}

/** Pixel by pixel where a step begins in a cell of the grid, in runs where none does; volts are even between points. */
function drawBands({ raster, x0, y0, k, inks }: Sight, ground: GroundPicture): void {
  const { fromM, stepM, across, high, volt } = ground
  const cellPx = k * stepM
  const columnOf = (i: number) => x0 + k * (fromM.x + i * stepM)
  const firstCell = Math.max(0, Math.floor(-columnOf(0) / cellPx))
  const lastCell = Math.min(across - 2, Math.ceil((raster.width - columnOf(0)) / cellPx))
  const fill = (found: number, from: number, to: number, row: number) => {
    if (found > 0) fillWhole(raster, from, row, to, row + 1, inks[groundInks[found - 1]])
  }
  for (let row = 0; row < raster.height; row++) {
    const y = ((y0 - row - 0.5) / k - fromM.y) / stepM
    const j = Math.floor(y)
    if (j < 0 || j > high - 2) continue
    const share = y - j
    const at = (i: number) => volt[j * across + i] * (1 - share) + volt[(j + 1) * across + i] * share
    let runFrom = Math.ceil(columnOf(firstCell) - 0.5)
    let runClass = -1
    let left = at(firstCell)
    for (let i = firstCell; i <= lastCell; i++) {
      const right = at(i + 1)
      const end = Math.ceil(columnOf(i + 1) - 0.5)
      const start = Math.ceil(columnOf(i) - 0.5)
      const first = voltClass(left)
      const isEven = first === voltClass(right) && (left >= 0 === right >= 0 || first === 0)
      for (let column = start; column < end; column = isEven ? end : column + 1) {
        const along = (column + 0.5 - columnOf(i)) / cellPx
        const found = isEven ? first : voltClass(left + (right - left) * along)
        if (found === runClass) continue
        fill(runClass, runFrom, column, row)
        runFrom = column
        runClass = found
      }
      left = right
    }
    fill(runClass, runFrom, Math.ceil(columnOf(lastCell + 1) - 0.5), row)
  }
}

function drawAreas({ raster, x0, y0, k, inks }: Sight, ground: GroundPicture): void {
  for (const { step, rings } of groundContours(ground)) {
    const flat = rings.map((ring) => ring.flatMap(({ x, y }) => [x0 + k * x, y0 - k * y]))
    raster.shapes?.area(flat, inks[groundInks[step]])
  }
}

function drawLines({ raster, x0, y0, k, dpr, inks, visibleM, isSwift }: Sight, ground: GroundPicture): void {
  if (isSwift) return
  for (const { step, lines } of groundContours(ground)) {
    const widthPx = groundLinePx[step] * dpr
    for (const line of lines) {
      for (let p = 0; p + 1 < line.length; p++) {
        const [a, b] = [line[p], line[p + 1]]
        if (Math.max(a.x, b.x) < visibleM.minX || Math.min(a.x, b.x) > visibleM.maxX) continue
        if (Math.max(a.y, b.y) < visibleM.minY || Math.min(a.y, b.y) > visibleM.maxY) continue
        strokeLine(raster, x0 + k * a.x, y0 - k * a.y, x0 + k * b.x, y0 - k * b.y, widthPx, inks.groundLine)
      }
    }
  }
}
