import type { MapGeometry } from './geometry.ts'

/**
 * What is drawn at a zoom: tables only; modules; long and cross members and posts over them; joints as well.
 * Equipment, conductors, suspects and currents are drawn at every level.
 */
export const levels = ['tables', 'frames', 'members', 'joints'] as const
export type Level = (typeof levels)[number]

/** From so many CSS pixels of a module's short side a level begins. */
const framesFromPx = 3
const membersFromPx = 7
const jointsFromPx = 16

/** Smallest sizes, in CSS pixels: what must be found does not shrink with the map. */
export const smallest = {
  tablePx: 1.5,
  postPx: 3,
  jointPx: 3,
  suspectPx: 7,
  missingPx: 9,
  conductorPx: 1.5,
  symbolPx: 9,
} as const

/** A pure function of pixels per metre and of how small the modules are in plan. */
export function levelOf(pxPerM: number, geometry: Pick<MapGeometry, 'shortSideM'>): Level {
  const sidePx = pxPerM * geometry.shortSideM
  if (sidePx < framesFromPx) return 'tables'
  if (sidePx < membersFromPx) return 'frames'
  return sidePx < jointsFromPx ? 'members' : 'joints'
}

export function isAtLeast(level: Level, other: Level): boolean {
  return levels.indexOf(level) >= levels.indexOf(other)
}

/** How far the modules are into the level of frames: 0 where it begins, 1 where members begin. */
export function frameStrength(pxPerM: number, geometry: Pick<MapGeometry, 'shortSideM'>): number {
  const sidePx = pxPerM * geometry.shortSideM
  return Math.min(Math.max((sidePx - framesFromPx) / (membersFromPx - framesFromPx), 0), 1)
}
