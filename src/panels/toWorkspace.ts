import type { AppState } from '../state/appState.ts'
import type { Workspace } from '../state/preferences.svelte.ts'
import { pickedPair } from '../state/planMarks.ts'
import { groupOf, strongestPair } from './suspectCurrent.ts'

type Touched = Pick<AppState, 'preferences' | 'results' | 'selection'>

/**
 * Goes to a workspace. Who measures wants to see the array and not how the current of an earlier reading
 * spread; who comes back to a suspect finds its current again.
 */
export function toWorkspace({ preferences, results, selection }: Touched, workspace: Workspace): void {
  if (workspace === preferences.workspace) return
  preferences.workspace = workspace
  const { picked } = selection
  // a pair of the plan means nothing elsewhere
  if (pickedPair(picked) !== null) selection.pick(null)
  // what was told of a part or joint would stand before the form
  if (workspace === 'measure' && picked && picked.kind !== 'suspect' && picked.kind !== 'reading') {
    selection.pick(null)
  }
  const group =
    workspace === 'locate' && picked?.kind === 'suspect' ? groupOf(results.locate, picked.joint) : null
  results.showCurrent(group && results.locate ? strongestPair(results.locate, group) : null)
}

/** Begins a pair at a part, or lets it go: whatever current was shown does not belong to it. */
export function startPair({ results, selection }: Omit<Touched, 'preferences'>, from: string | null): void {
  if (from !== null) results.showCurrent(null)
  selection.beginPair(from)
}
