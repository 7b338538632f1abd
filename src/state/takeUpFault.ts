import type { AppState } from './appState.ts'

/** Takes up the fault of the open site as it was left on this device, without what is no longer drawn. */
export function takeUpFault({
  session: { site },
  faultDesk,
  faultShelf,
}: Pick<AppState, 'session' | 'faultDesk' | 'faultShelf'>): void {
  const found = site && faultShelf.get(site.id)
  if (found) faultDesk.take(found)
}
