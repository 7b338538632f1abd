export interface PowerLaw {
  readonly exponent: number
  readonly factor: number
}

/**
 * The power law y = factor · x^exponent that fits best in logarithms: least squares of ln y on ln x. Values
 * must be above 0; at least two different x. O(points).
 */
export function fitPowerLaw(points: readonly (readonly [x: number, y: number])[]): PowerLaw {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const)
  const meanX = logs.reduce((sum, [x]) => sum + x, 0) / logs.length
  const meanY = logs.reduce((sum, [, y]) => sum + y, 0) / logs.length
  let square = 0
  let product = 0
  for (const [x, y] of logs) {
    square += (x - meanX) ** 2
    product += (x - meanX) * (y - meanY)
  }
  if (!(square > 0)) throw new Error('a slope needs two sizes')
  const exponent = product / square
  return { exponent, factor: Math.exp(meanY - exponent * meanX) }
}
