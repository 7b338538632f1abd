import type { DrawnSort } from './drawnItem.ts'
import type { PointM } from './schema/primitives.ts'

/** What is told beside the pointer while something is drawn, as facts; text puts them into words. */
export type Told =
  | { readonly fact: 'row'; readonly tables: number; readonly lengthM: number; readonly bearingDeg: number }
  | { readonly fact: 'length'; readonly lengthM: number; readonly bearingDeg: number }
  | { readonly fact: 'path'; readonly lengthM: number; readonly points: number }
  | { readonly fact: 'move'; readonly byM: PointM }
  | { readonly fact: 'turn'; readonly byDeg: number }
  | { readonly fact: 'land'; readonly part: string }
  | {
      readonly fact: 'distance'
      readonly lengthM: number
      readonly bearingDeg: number
      readonly totalM: number
    }
  | { readonly fact: 'refused'; readonly reason: 'noType' | 'tooShort' | 'samePart' }

/** Names of undo steps; text puts them into words. */
export type DrawnDeed =
  | { readonly deed: 'drawRow'; readonly tables: number }
  | { readonly deed: 'drawItem'; readonly sort: DrawnSort }
  | { readonly deed: 'drawExtraJoint' }
  | { readonly deed: 'move' | 'turn'; readonly items: number }
  | { readonly deed: 'movePoint' }
