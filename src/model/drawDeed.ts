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
  /** So many copies of what is chosen, each so far from the one before. */
  | { readonly fact: 'copies'; readonly copies: number; readonly byM: PointM; readonly pitchM: number }
  | { readonly fact: 'size'; readonly widthM: number; readonly depthM: number }
  | {
      readonly fact: 'refused'
      readonly reason: 'noType' | 'tooShort' | 'samePart' | 'nothingChosen' | 'noPart'
    }

/** Names of undo steps; text puts them into words. */
export type DrawnDeed =
  | { readonly deed: 'drawRow'; readonly tables: number }
  | { readonly deed: 'drawItem'; readonly sort: DrawnSort }
  | { readonly deed: 'drawExtraJoint' }
  | { readonly deed: 'move' | 'turn'; readonly items: number }
  | { readonly deed: 'movePoint' }
  | { readonly deed: 'copy'; readonly items: number; readonly copies: number }
  /** A row made longer, shorter or turned by its free end. */
  | { readonly deed: 'changeRow'; readonly tables: number }
