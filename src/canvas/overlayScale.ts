/** A bar of a round length for the corner of the map. */
export interface ScaleBar {
  readonly text: string
  readonly widthPx: number
}

const metresPerFoot = 0.3048
const shortestPx = 60

/** The shortest round length (1, 2 or 5 times a power of ten) whose bar is at least `shortestPx` wide. */
export function scaleBar(pxPerM: number, units: 'metric' | 'us'): ScaleBar {
  const pxPerUnit = units === 'us' ? pxPerM * metresPerFoot : pxPerM
  const least = shortestPx / pxPerUnit
  const power = 10 ** Math.floor(Math.log10(least))
  const length = [1, 2, 5, 10].map((step) => step * power).find((length) => length >= least * (1 - 1e-9))!
  return { text: lengthText(length, units), widthPx: length * pxPerUnit }
}

function lengthText(length: number, units: 'metric' | 'us'): string {
  if (units === 'us') return `${shortened(length)} ft`
  if (length >= 1000) return `${shortened(length / 1000)} km`
  return length >= 1 ? `${shortened(length)} m` : `${shortened(length * 100)} cm`
}

function shortened(value: number): string {
  return String(Number(value.toPrecision(3)))
}
