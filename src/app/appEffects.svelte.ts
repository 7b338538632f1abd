import { untrack } from 'svelte'
import type { AppState } from '../state/appState.ts'
import { takeUpFault } from '../state/takeUpFault.ts'
import { drillTexts } from '../text/drillText.ts'
import { showTheme } from './showTheme.ts'

/**
 * The effects of the page: the engine hears of every change of the site, every change is saved, and the
 * theme is put in force. What has been begun on the drawing desk ends with the site or the workspace. Call while a
 * component is being made.
 */
export function runAppEffects(app: AppState): void {
  const {
    session,
    results,
    library,
    preferences,
    desk,
    planDesk,
    faultDesk,
    faultShelf,
    drillDesk,
    announcer,
  } = app
  $effect(() => {
    const { site } = session
    untrack(() => results.refresh(site))
  })
  $effect(() => {
    // read for the effect to run again: whatever changes the site is saved
    void session.site
    untrack(() => void library.saveNow())
  })
  const siteId = $derived(session.site?.id)
  const workspace = $derived(preferences.workspace)
  $effect(() => {
    void siteId
    untrack(() => {
      desk.choose([])
      planDesk.leave()
      faultDesk.leave()
      takeUpFault(app)
      if (drillDesk.isOn) announcer.say(drillTexts.waitsElsewhere)
      drillDesk.leave()
    })
  })
  $effect(() => {
    // read for the effect to run again: what is erased drops out of the fault before it is asked or kept
    void session.index
    untrack(() => faultDesk.fit())
  })
  // after the fault of another site was taken up: what is kept here is of the open one
  $effect(() => {
    const { kept } = faultDesk
    untrack(() => siteId && session.index && faultShelf.put(siteId, kept))
  })
  // what the plan would show is asked while somebody looks at it
  $effect(() => {
    void planDesk.question
    const isPlanning = preferences.workspace === 'plan'
    untrack(() => {
      if (isPlanning) void planDesk.refresh()
    })
  })
  $effect(() => {
    void faultDesk.question
    const isFault = preferences.workspace === 'fault'
    untrack(() => {
      if (isFault) void faultDesk.refresh()
    })
  })
  $effect(() => {
    void faultDesk.ground.question
    const isFault = preferences.workspace === 'fault'
    untrack(() => {
      if (isFault) void faultDesk.ground.refresh()
    })
  })
  $effect(() => {
    void planDesk.shownPairs
    void planDesk.proposing.persons
    const isPlanning = preferences.workspace === 'plan'
    untrack(() => {
      if (isPlanning) void planDesk.refreshWalk()
    })
  })
  $effect(() => {
    void siteId
    void workspace
    untrack(() => desk.giveUp())
  })
  $effect(() => {
    const { theme } = preferences
    untrack(() => showTheme(theme))
  })
}
