import type { FoundPlace } from '../text/findCatch.ts'
import type { Findings, FindScope, PlaceFinder } from '../text/findPlaces.ts'

/** A line of the list below a search field: a place to go to, or words that could be typed instead. */
export type FindLine =
  | { readonly kind: 'place'; readonly place: FoundPlace; readonly key: string }
  | { readonly kind: 'example'; readonly text: string }

/** What was found; before anything is typed or where nothing fits, what could be. */
export function findLines(
  finder: PlaceFinder,
  findings: Findings,
  scope: FindScope,
  typed: string,
  examples: readonly string[],
): readonly FindLine[] {
  const isEmpty = typed.trim() === ''
  const places = isEmpty && scope === 'parts' ? finder.equipment() : findings.places
  if (places.length > 0) {
    return places.map((place) => ({ kind: 'place', place, key: place.kind === 'reading' ? place.entry : '' }))
  }
  return examples.map((text) => ({ kind: 'example', text }))
}
