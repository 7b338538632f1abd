import { untrack } from 'svelte'
import type { AppState } from '../state/appState.ts'
import { showTheme } from './showTheme.ts'

/**
 * The effects of the page: the engine hears of every change of the site, every change is saved, and the
 * theme is put in force. Call while a component is being made.
 */
export function runAppEffects({ session, results, library, preferences }: AppState): void {
  $effect(() => {
    const { site } = session
    untrack(() => results.refresh(site))
  })
  $effect(() => {
    // read for the effect to run again: whatever changes the site is saved
    void session.site
    untrack(() => void library.saveNow())
  })
  $effect(() => {
    const { theme } = preferences
    untrack(() => showTheme(theme))
  })
}
