import type { SiteIndex } from '../layout/siteIndex.ts'
import type { FaultAnswer } from '../model/faultAnswers.ts'
import type { FaultDesk } from './faultDesk.svelte.ts'
import { jointOf, partOf, type FaultMarks } from './mapMarks.ts'

/** The fault that is looked at as marks of the map; null while it is nowhere. */
export function faultMarks(index: SiteIndex, desk: FaultDesk): FaultMarks | null {
  const { places, shown, mapShows, losses } = desk
  const at = partOf(index, places.at)
  if (at === null) return null
  const isLosses = mapShows === 'losses' && losses.answer !== null
  const isShown = shown !== null && shown.partV.length === index.partCount + 1
  return {
    partV: isShown && !isLosses ? shown.partV : null,
    lossV: isLosses && losses.answer.acrossV.length === index.jointCount ? losses.answer.acrossV : null,
    currentA: isShown && !isLosses && shown.currentA.length === index.jointCount ? shown.currentA : null,
    mostA: mostAmpere(desk.drawn, desk.changed),
    at,
    second: partOf(index, places.second),
    person: personOf(index, places.person),
    altered: desk.showsChange ? places.altered.flatMap(({ joint }) => jointOf(index, joint) ?? []) : [],
    ground: isLosses ? null : desk.ground.marks,
    isPaused: desk.isPaused,
  }
}

/** One width for both sides of a comparison, so that they can be compared. */
function mostAmpere(...answers: readonly (FaultAnswer | null)[]): number {
  return Math.max(
    0,
    ...answers.flatMap((answer) => answer?.ports.map(({ currentA }) => Math.abs(currentA)) ?? []),
  )
}

function personOf(index: SiteIndex, person: FaultDesk['places']['person']): FaultMarks['person'] {
  const hand = partOf(index, person?.hand ?? null)
  return hand === null ? null : { hand, other: partOf(index, person?.other ?? null) }
}
