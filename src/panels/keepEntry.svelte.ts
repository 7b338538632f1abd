import { untrack } from 'svelte'
import type { AppState } from '../state/appState.ts'
import { readKeptEntry, writeKeptEntry } from './keptEntry.ts'
import type { PairDraft } from './pairDraft.svelte.ts'

/** Typing goes on for so long before it is kept. */
const pauseMs = 120

/**
 * Keeps the form of a pair on the device for the site that is open, and takes it up again when that site is opened:
 * each site has a draft of its own. Nothing is kept where another tab holds the site. What was entered is forgotten
 * only when the reading is saved. Call while a component is being made.
 */
export function keepEntry({ session, selection, library }: AppState, draft: PairDraft): void {
  const siteId = $derived(session.canWrite ? (session.site?.id ?? null) : null)
  /** The site whose draft the form shows; null until what was kept has been taken up. */
  let shown = $state.raw<string | null>(null)
  let last: string | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let due: (() => void) | null = null

  const flush = () => {
    clearTimeout(timer)
    due?.()
    due = null
  }

  async function takeUp(id: string | null) {
    flush()
    shown = null
    if (id === null) return
    if (last !== null && last !== id) {
      draft.restore(null)
      draft.isFromBefore = false
      selection.beginPair(null)
    }
    last = id
    const text = (await library.drafts?.get(id)) ?? null
    const { site } = session
    if (site?.id !== id || siteId !== id) return
    const kept = readKeptEntry(text, site)
    // what was typed or linked while this was being read is newer
    if (kept && !draft.isBegun && selection.pairFrom === null) {
      draft.restore(kept.draft)
      selection.beginPair(kept.from)
      if (kept.to !== null) selection.endPair(kept.to)
      draft.isFromBefore = draft.isBegun || kept.to !== null
    }
    shown = id
  }

  $effect(() => {
    const id = siteId
    untrack(() => void takeUp(id))
  })

  $effect(() => {
    const { site, saving } = session
    const ends = { from: selection.pairFrom, to: selection.pairTo }
    const kept = draft.snapshot()
    const id = shown
    if (id === null || site?.id !== id) return
    if (!draft.isBegun && ends.to === null && saving !== 'saved') return
    untrack(() => {
      clearTimeout(timer)
      const text = writeKeptEntry(site, ends, kept)
      due = () => void library.drafts?.put(id, text)
      timer = setTimeout(flush, pauseMs)
    })
  })

  $effect(() => {
    const leave = () => flush()
    addEventListener('pagehide', leave)
    document.addEventListener('visibilitychange', leave)
    return () => {
      leave()
      removeEventListener('pagehide', leave)
      document.removeEventListener('visibilitychange', leave)
    }
  })
}
