import type { AppState } from './appState.ts'
import { fitFault } from './keptFault.ts'

/** Takes up the fault of the open site as it was left on this device, without what is no longer drawn. */
export function takeUpFault({
  session: { site, index },
  faultDesk,
  faultShelf,
}: Pick<AppState, 'session' | 'faultDesk' | 'faultShelf'>): void {
  const found = site && index && faultShelf.get(site.id)
  if (!found) return
  const { kept, dropped } = fitFault(found, index)
  faultDesk.take(kept)
  faultDesk.dropped = dropped
}
