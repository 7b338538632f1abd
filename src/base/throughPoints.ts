/** A curve that is known at points: x rises from one to the next. */
export type CurvePoints = readonly (readonly [x: number, y: number])[]

/** Straight lines between the points; beyond the first and the last the value there. */
export function linearThrough(points: CurvePoints, x: number): number {
  return through(
    points,
    x,
    (value) => value,
    (value) => value,
  )
}

/**
 * Straight lines between the points on paper whose two axes are logarithmic; beyond the first and the last the value there.
 * All x and y are above 0.
 */
export function logLogThrough(points: CurvePoints, x: number): number {
  return through(points, x, Math.log, Math.exp)
}

function through(
  points: CurvePoints,
  x: number,
  forth: (value: number) => number,
  back: (value: number) => number,
): number {
  const after = points.findIndex(([at]) => at >= x)
  if (after === 0 || after < 0) return points[after < 0 ? points.length - 1 : 0][1]
  const [x1, y1] = points[after]
  if (x1 === x) return y1
  const [x0, y0] = points[after - 1]
  const share = (forth(x) - forth(x0)) / (forth(x1) - forth(x0))
  return back(forth(y0) + share * (forth(y1) - forth(y0)))
}
