import type { SiteIndex } from '../layout/siteIndex.ts'
import { noMarks, type MapMarks } from '../state/mapMarks.ts'
import { noInset } from './camera.ts'
import { buildGeometry, type MapGeometry } from './geometry.ts'
import { fitMargins } from './mapRoom.ts'
import { mapPictureSvg } from './mapPicture.ts'
import { grown, type RectM, type View } from './mapTypes.ts'
import { jointPointM } from './markPoints.ts'
import { Overlay } from './overlay.ts'
import { palettes } from './palette.ts'
import { rowNames } from './placeNames.ts'

/** A map on a page of its own: what it shows, and its SVG. */
export interface ReportPicture {
  /** Rank of the suspect that it is drawn around; null for the whole site. */
  readonly rank: number | null
  readonly svg: string
}

/** Room around a suspect, in metres: some tables to each side. */
const aroundM = 18
/** A site whose map is drawn from farther than this needs areas of its own. */
const nearPxPerM = 14
const mostAreas = 6
const leastHeightPx = 260
const areaHeightPx = 420

/**
 * Maps for paper, in the light colours: the whole site, and where it is too large for modules to be told apart the area
 * around each of the first suspects. They show the readings and suspects of `marks`, nothing that is picked or pointed at.
 */
export function reportPictures(
  index: SiteIndex,
  marks: Pick<MapMarks, 'readings' | 'suspects'>,
  titleOf: (rank: number | null) => string,
  { widthPx, mostHeightPx }: { readonly widthPx: number; readonly mostHeightPx: number },
): readonly ReportPicture[] {
  const measure = document.createElement('canvas').getContext('2d')
  if (!measure) return []
  const geometry = buildGeometry(index)
  // paper is white by itself
  const palette = { ...palettes.light, ground: '#ffffff' }
  const overlay = new Overlay(document.createElement('div'))
  const shown = { ...noMarks, readings: marks.readings, suspects: marks.suspects }
  overlay.update({ geometry, marks: shown, palette })
  const draw = (view: View, rank: number | null): ReportPicture => {
    overlay.layOut({ view, inset: noInset, isMoving: false, link: null, aim: null, hasNote: false })
    const moment = {
      geometry,
      view,
      palette,
      marks: shown,
      readings: overlay.readingPicture(view.k),
      drawOver: (context: CanvasRenderingContext2D) => overlay.drawOver(context),
    }
    return { rank, svg: mapPictureSvg(moment, titleOf(rank), measure) }
  }
  const margins = fitMargins(rowNames(geometry))
  const { minX, maxX, minY, maxY } = geometry.boundsM
  const slope = (maxY - minY) / Math.max(maxX - minX, 1e-3)
  const fullPx = slope * (widthPx - margins.left - margins.right) + margins.top + margins.bottom
  const heightPx = Math.round(Math.min(Math.max(fullPx, leastHeightPx), mostHeightPx))
  const whole = viewOf(geometry.boundsM, margins, { widthPx, heightPx })
  const pictures = [draw(whole, null)]
  if (whole.k < nearPxPerM)
    for (const { rank, box } of areasOf(geometry, shown).slice(0, mostAreas))
      pictures.push(
        draw(
          viewOf(box, { top: 28, right: 28, bottom: 40, left: 28 }, { widthPx, heightPx: areaHeightPx }),
          rank,
        ),
      )
  overlay.destroy()
  return pictures
}

/** A rectangle in the middle of a picture, as large as it fits between the margins. */
function viewOf(
  rect: RectM,
  margins: { readonly top: number; readonly right: number; readonly bottom: number; readonly left: number },
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
): View {
  const { top, right, bottom, left } = margins
  const k = Math.min(
    (widthPx - left - right) / Math.max(rect.maxX - rect.minX, 1e-3),
    (heightPx - top - bottom) / Math.max(rect.maxY - rect.minY, 1e-3),
    90,
  )
  const x = (left + widthPx - right) / 2 - (k * (rect.minX + rect.maxX)) / 2
  const y = (top + heightPx - bottom) / 2 + (k * (rect.minY + rect.maxY)) / 2
  return { x, y, k, widthPx, heightPx, dpr: 2 }
}

/** One area for each rank, of the joints that are told apart by nothing; large groups are shown by their first joint. */
function areasOf(
  geometry: MapGeometry,
  { suspects }: MapMarks,
): readonly { readonly rank: number; readonly box: RectM }[] {
  const ranks = [...new Set(suspects.map(({ rank }) => rank))].sort((a, b) => a - b)
  return ranks.flatMap((rank) => {
    const first = suspects.find((mark) => mark.rank === rank)
    if (!first || first.probability < 0.05) return []
    const { x, y } = jointPointM(geometry, first.joint)
    return [{ rank, box: grown({ minX: x, minY: y, maxX: x, maxY: y }, aroundM) }]
  })
}
