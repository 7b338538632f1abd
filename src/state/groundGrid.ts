/** What a map shows of the plan, in metres, and at how many pixels per metre. */
export interface SeenPlan {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
  readonly pxPerM: number
}

/** A grid of points in plan, row by row from `fromM`, each row a step further north. */
export interface PlanGrid {
  readonly fromM: { readonly x: number; readonly y: number }
  readonly stepM: number
  readonly across: number
  readonly high: number
}

const cellPx = 9
const leastStepM = 0.05
/** So much of the view is asked for beyond each of its sides. */
const margin = 0.2
const mostPoints = 60_000
/** A grid with so many times the points that are needed is done without. */
const mostTooFine = 2
/** A leak is spread over so much of a step, so that rods between the points of a grid leave no pattern. */
export const blurOfStep = 0.7

/** The grid that fits what is seen: points some pixels apart, at round metres, and more around the view. */
export function groundGrid({ minX, minY, maxX, maxY, pxPerM }: SeenPlan): PlanGrid {
  const aroundX = margin * (maxX - minX)
  const aroundY = margin * (maxY - minY)
  for (let stepM = roundStepM(Math.max(cellPx / pxPerM, leastStepM)); ; stepM = roundStepM(1.01 * stepM)) {
    const firstX = Math.floor((minX - aroundX) / stepM)
    const firstY = Math.floor((minY - aroundY) / stepM)
    const across = Math.ceil((maxX + aroundX) / stepM) - firstX + 1
    const high = Math.ceil((maxY + aroundY) / stepM) - firstY + 1
    if (across * high <= mostPoints)
      return { fromM: { x: firstX * stepM, y: firstY * stepM }, stepM, across, high }
  }
}

const rounds = [1, 1.5, 2, 3, 5, 7]

/** The least of these times a power of ten that is not smaller. */
function roundStepM(leastM: number): number {
  const power = 10 ** Math.floor(Math.log10(leastM))
  return power * (rounds.find((times) => times * power >= leastM * (1 - 1e-9)) ?? 10)
}

/** Whether a grid that is there shows what is seen as well as one made for it. */
export function doesShow(grid: PlanGrid, seen: SeenPlan): boolean {
  const { fromM, stepM, across, high } = grid
  const wantedM = groundGrid(seen).stepM
  return (
    stepM <= wantedM * (1 + 1e-9) &&
    stepM * mostTooFine >= wantedM &&
    fromM.x <= seen.minX &&
    fromM.y <= seen.minY &&
    fromM.x + (across - 1) * stepM >= seen.maxX &&
    fromM.y + (high - 1) * stepM >= seen.maxY
  )
}

/** Volts at a place, even between the points of a grid; null outside it. */
export function voltsOnGrid(
  { fromM, stepM, across, high }: PlanGrid,
  volt: Float32Array,
  { x, y }: { readonly x: number; readonly y: number },
): number | null {
  const column = (x - fromM.x) / stepM
  const row = (y - fromM.y) / stepM
  if (!(column >= 0 && row >= 0 && column <= across - 1 && row <= high - 1)) return null
  const i = Math.min(Math.floor(column), across - 2)
  const j = Math.min(Math.floor(row), high - 2)
  const [u, v] = [column - i, row - j]
  const at = (di: number, dj: number) => volt[(j + dj) * across + i + di]
  return (1 - v) * ((1 - u) * at(0, 0) + u * at(1, 0)) + v * ((1 - u) * at(0, 1) + u * at(1, 1))
}
