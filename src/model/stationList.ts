import { fail, ok, type Result } from '../base/result.ts'

export type StationTrouble =
  | { readonly code: 'none' }
  | { readonly code: 'notANumber'; readonly text: string }
  | { readonly code: 'beyond'; readonly station: number; readonly last: number }
  | { readonly code: 'twice'; readonly station: number }
  | { readonly code: 'backwards'; readonly text: string }

/**
 * Reads stations as they are typed: `2, 5, 8, 10`, `2 5 8`, `3-6` for 3 to 6. Ascending in the result.
 * @param last the last station there is
 */
export function parseStations(
  text: string,
  last: number,
  { mayBeNone = false } = {},
): Result<readonly number[], StationTrouble> {
  const pieces = text
    .replace(/\s*(?:[-–—]|\bto\b)\s*/g, '-')
    .split(/[\s,;]+/)
    .filter((piece) => piece !== '')
  if (pieces.length === 0) return mayBeNone ? ok([]) : fail({ code: 'none' })
  const stations: number[] = []
  for (const piece of pieces) {
    const found = /^(\d{1,6})(?:-(\d{1,6}))?$/.exec(piece)
    if (!found) return fail({ code: 'notANumber', text: piece })
    const from = Number(found[1])
    const to = found[2] === undefined ? from : Number(found[2])
    if (to < from) return fail({ code: 'backwards', text: piece })
    if (from < 1 || to > last) return fail({ code: 'beyond', station: from < 1 ? from : to, last })
    for (let station = from; station <= to; station++) {
      if (stations.includes(station)) return fail({ code: 'twice', station })
      stations.push(station)
    }
  }
  return ok(stations.sort((a, b) => a - b))
}

/** `2, 5, 8, 10`. */
export function writeStations(stations: readonly number[]): string {
  return stations.join(', ')
}

/** The stations with one set, or taken out where it was set. */
export function toggleStation(stations: readonly number[], station: number): readonly number[] {
  return stations.includes(station)
    ? stations.filter((one) => one !== station)
    : [...stations, station].sort((a, b) => a - b)
}
