/*
 * Where members, posts and splices of a table stand when nobody has said. All figures are judgement, from
 * common practice: a designer's drawing has the last word, and every derived number can be edited.
 */

/** Modules between two supports along a table, at most; a torque tube spans more than rails do. Judgement. */
const mostModulesApart = { fixedTilt: 3, tracker: 6, flushRoof: 3 } as const
/** Longest length that a rail, and a torque tube, is delivered and carried in, in metres. Judgement. */
export const railStockM = 7
export const tubeStockM = 12

/** To the millimetre, as drawings have it; also takes off what binary addition leaves behind. */
export function toMillimetre(lengthM: number): number {
  return Math.round(lengthM * 1000) / 1000
}

/**
 * Stations of cross members and posts: the first and last one module in from the ends, the others evenly
 * between them, at most three modules apart, six on a tracker. A table of one or two modules is held at its ends.
 */
export function evenStations(
  across: number,
  mounting: keyof typeof mostModulesApart = 'fixedTilt',
): readonly number[] {
  if (across < 3) return [1, across + 1]
  const spans = Math.max(1, Math.ceil((across - 2) / mostModulesApart[mounting]))
  return Array.from({ length: spans + 1 }, (_, k) => Math.round(2 + (k * (across - 2)) / spans))
}

/** Stations after which a rail is spliced, so that no length of it is longer than it is delivered in. */
export function evenSplices(across: number, pitchM: number, stockM = railStockM): readonly number[] {
  const lengths = Math.min(across, Math.ceil((across * pitchM) / stockM))
  return Array.from({ length: lengths - 1 }, (_, k) => Math.floor(((k + 1) * across) / lengths) + 1)
}

/** How far in from a module's edges the outer rails below it lie: the quarter points of two, and so on. */
export function quarterInsetM(sideM: number, rails: number): number {
  return toMillimetre(sideM / (2 * rails))
}

/** Places of rails under one module, from its lower edge: the outer ones this far in, the others evenly between. */
export function railsUnderModule(sideM: number, rails: number, insetM: number): readonly number[] {
  if (rails === 1) return [toMillimetre(sideM / 2)]
  const apartM = (sideM - 2 * insetM) / (rails - 1)
  return Array.from({ length: rails }, (_, k) => toMillimetre(insetM + k * apartM))
}
