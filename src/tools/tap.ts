import type { PointM } from '../model/schema/primitives.ts'

/** A thing of the map that can be chosen, by its number in the layout or its entry in the record. */
export type Target =
  | { readonly kind: 'part'; readonly part: number }
  | { readonly kind: 'joint'; readonly joint: number }
  /** The group of suspects that a joint belongs to. */
  | { readonly kind: 'suspect'; readonly joint: number }
  | { readonly kind: 'reading'; readonly entry: string }
  | { readonly kind: 'table'; readonly run: number; readonly place: number }

/** A tap in plan metres and what was hit there. */
export interface Tap {
  readonly at: PointM
  /** How far apart two taps may be and still mean the same place. */
  readonly reachM: number
  /** A mark drawn above everything else that lies right under the pointer. */
  readonly mark: Target | null
  /** Numbers of the layout; −1 where nothing is near. */
  readonly part: number
  readonly joint: number
  readonly reading: string | null
  readonly table: { readonly run: number; readonly place: number } | null
}

export function isSameTarget(a: Target, b: Target): boolean {
  switch (a.kind) {
    case 'part':
      return b.kind === 'part' && a.part === b.part
    case 'joint':
      return b.kind === 'joint' && a.joint === b.joint
    case 'suspect':
      return b.kind === 'suspect' && a.joint === b.joint
    case 'reading':
      return b.kind === 'reading' && a.entry === b.entry
    case 'table':
      return b.kind === 'table' && a.run === b.run && a.place === b.place
  }
}
