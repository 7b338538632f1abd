import { getContext, setContext } from 'svelte'
import { Announcer } from './announcer.svelte.ts'
import { Digests } from './digests.svelte.ts'
import { DrillDesk } from './drillDesk.svelte.ts'
import { DrillSheets } from './drillSheets.svelte.ts'
import { DrawDesk } from './drawDesk.svelte.ts'
import { FaultDesk } from './faultDesk.svelte.ts'
import { FaultShelf } from './faultShelf.ts'
import type { Identity } from './identity.ts'
import { Joining } from './joining.svelte.ts'
import { LessonDesk } from './lessonDesk.svelte.ts'
import { Library } from './library.svelte.ts'
import { PlanDesk } from './planDesk.svelte.ts'
import { Preferences, type KeyValues } from './preferences.svelte.ts'
import { Results } from './results.svelte.ts'
import { Selection } from './selection.svelte.ts'
import { Session } from './session.svelte.ts'
import { SiteHistory } from './siteHistory.svelte.ts'
import { Usual } from './usual.svelte.ts'
import type { EngineClient } from '../engine/client.ts'
import { sha256OfText } from '../storage/storageEnvironment.ts'

/** Everything the screen stands on, made once by the page and handed down. */
export interface AppState {
  readonly identity: Identity
  readonly session: Session
  readonly desk: DrawDesk
  readonly planDesk: PlanDesk
  readonly faultDesk: FaultDesk
  /** Faults of sites, as they were left on this device. */
  readonly faultShelf: FaultShelf
  readonly lessonDesk: LessonDesk
  readonly drillDesk: DrillDesk
  /** Who practised on this device, and how it went. */
  readonly drillSheets: DrillSheets
  readonly selection: Selection
  readonly results: Results
  readonly preferences: Preferences
  /** Who usually measures with this device, and with what. */
  readonly usual: Usual
  readonly library: Library
  /** Earlier versions of the open site. */
  readonly history: SiteHistory
  /** Files that come in. */
  readonly joining: Joining
  readonly announcer: Announcer
  /** Digests of what was signed. */
  readonly digests: Digests
}

export function makeAppState(engine: EngineClient, identity: Identity, store: KeyValues | null): AppState {
  const session = new Session(() => identity.newId())
  const preferences = new Preferences(store)
  const library = new Library(session, preferences)
  return {
    identity,
    session,
    desk: new DrawDesk(session),
    planDesk: new PlanDesk(session, engine),
    faultDesk: new FaultDesk(session, engine),
    faultShelf: new FaultShelf(store),
    lessonDesk: new LessonDesk(engine),
    drillDesk: new DrillDesk(session, engine, store),
    drillSheets: new DrillSheets(store),
    selection: new Selection(),
    results: new Results(engine),
    preferences,
    usual: new Usual(store),
    library,
    history: new SiteHistory(session, library, identity),
    joining: new Joining(session, library, identity),
    announcer: new Announcer(),
    digests: new Digests(sha256OfText),
  }
}

const key = Symbol('app state')

export function provideAppState(state: AppState): AppState {
  return setContext(key, state)
}

export function useAppState(): AppState {
  return getContext<AppState>(key)
}
