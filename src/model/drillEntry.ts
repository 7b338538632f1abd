/**
 * The id of an entry that is made of a step of a drill: of its kind (0 device, 1 visit, 2 nulling, 3 reading) and its
 * number. No id that was drawn by lot has this form.
 */
export function drillEntry(kind: number, number: number): string {
  return `00000000-0000-4000-8000-${String(kind)}${String(number).padStart(11, '0')}`
}

/** The number of the reading that an entry was made of; null for any other entry. */
export function drillReadingOf(entry: string): number | null {
  const found = /^00000000-0000-4000-8000-3(\d{11})$/.exec(entry)
  return found ? Number(found[1]) : null
}
