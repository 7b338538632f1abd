import type { SiteIndex } from '../layout/siteIndex.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import type { Inset } from './camera.ts'
import type { Level } from './lod.ts'
import type { KeyboardPlace } from './mapPlace.ts'
import type { ThemeName } from './palette.ts'

/** What the map shows; replaced as a whole. */
export interface MapInput {
  readonly index: SiteIndex
  readonly marks: MapMarks
  readonly themeName: ThemeName
  /** A tap begins or ends a pair instead of choosing. */
  readonly linking: boolean
  readonly inset: Inset
}

export interface MapElements {
  readonly host: HTMLElement
  readonly base: HTMLCanvasElement
  readonly overlay: HTMLDivElement
}

export interface MapEvents {
  readonly onpick: (picked: Picked | null) => void
  readonly onhover: (hovered: Picked | null) => void
  readonly onlink: (from: string, to: string) => void
  readonly onlinkstart: (from: string) => void
  readonly onlinkcancel: () => void
  readonly onlevel: (level: Level) => void
  /** The keyboard's part has moved, over the plan or with the view. */
  readonly onplace: (place: KeyboardPlace | null) => void
}

/** Revisions of one drawing follow one another; another site has another line of them. */
export function isSameSite(a: SiteIndex, b: SiteIndex): boolean {
  return (
    a.drawing.revision === b.drawing.revision ||
    a.drawing.parent === b.drawing.revision ||
    b.drawing.parent === a.drawing.revision
  )
}
