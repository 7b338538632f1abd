import type { PointM } from '../../model/schema/primitives.ts'
import { betweenM } from './graph.ts'

/** A straight line that is walked: a lane, or a leg of an aisle. */
export interface Line {
  readonly start: PointM
  readonly along: PointM
  readonly lengthM: number
}

/** Lines are looked for so far around a point. */
export const nearM = 30

export function legOf(start: PointM, end: PointM): Line {
  const lengthM = betweenM(start, end)
  const along = { x: (end.x - start.x) / lengthM, y: (end.y - start.y) / lengthM }
  return { start, along, lengthM }
}

/** The numbers of lines that may come within `nearM` of a point, ascending. O(lines near it) each. */
export function linesNear(lines: readonly Line[]): (at: PointM) => readonly number[] {
  const cells = new Map<string, Set<number>>()
  lines.forEach(({ start, along, lengthM }, line) => {
    const steps = Math.max(1, Math.ceil(lengthM / (nearM / 2)))
    for (let k = 0; k <= steps; k++) {
      const alongM = (k / steps) * lengthM
      const key = cellAt(start.x + alongM * along.x, start.y + alongM * along.y)
      const cell = cells.get(key)
      if (cell) cell.add(line)
      else cells.set(key, new Set([line]))
    }
  })
  return ({ x, y }) => {
    const found = new Set<number>()
    for (const dx of [-nearM, 0, nearM]) {
      for (const dy of [-nearM, 0, nearM]) {
        for (const line of cells.get(cellAt(x + dx, y + dy)) ?? []) found.add(line)
      }
    }
    return [...found].sort((a, b) => a - b)
  }
}

const cellAt = (x: number, y: number) => `${Math.floor(x / nearM)},${Math.floor(y / nearM)}`
