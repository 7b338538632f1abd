import type { MapMarks } from '../state/mapMarks.ts'
import type { Palette } from './palette.ts'
import type { ReadingPicture } from './readingPicture.ts'

/** What lies over the drawing as pixels of the base layer, and in which colours. */
export interface BasePaint {
  readonly palette: Palette
  readonly marks: Pick<MapMarks, 'suspects' | 'currentPerAmpere' | 'sights' | 'fault'>
  /** The readings as they are drawn at this zoom; none where they are left out. */
  readonly readings?: ReadingPicture | null
  /** The scale is changing: what costs time and adds only finish may rest. */
  readonly isSwift?: boolean
}
