import { typeOfRun, type MapGeometry } from '../../../src/canvas/geometry.ts'
import { isAtLeast, levelOf } from '../../../src/canvas/lod.ts'
import { visibleRectM, type View } from '../../../src/canvas/mapTypes.ts'
import { placesIn } from '../../../src/canvas/placesIn.ts'
import type { Palette } from '../../../src/canvas/palette.ts'
import { bodySort, soilSort } from '../../../src/layout/jointPlaces.ts'

/**
 * The peer: the same tables with the same culling and level of detail, as rectangles between whole pixels that a
 * Canvas 2D context fills. Seams instead of modules, as the map draws them; rows along an axis only.
 */
export function drawPlain(
  context: CanvasRenderingContext2D,
  geometry: MapGeometry,
  view: View,
  palette: Palette,
): void {
  const { runs } = geometry
  const { k } = view
  const [x0, y0] = [Math.round(view.x), Math.round(view.y)]
  const level = levelOf(k, geometry)
  const seen = visibleRectM(view)
  context.fillStyle = palette.ground
  context.fillRect(0, 0, view.widthPx, view.heightPx)
  const fill = (ink: string, x: number, y: number, width: number, height: number) => {
    context.fillStyle = ink
    const [left, top] = [Math.round(x), Math.round(y)]
    context.fillRect(
      left,
      top,
      Math.max(Math.round(x + width) - left, 1),
      Math.max(Math.round(y + height) - top, 1),
    )
  }
  for (let run = 0; run < runs.count; run++) {
    const places = placesIn(geometry, run, seen)
    const { pattern, memberY, crossX, crossFromY, crossToY, jointX, jointY, jointSort } = typeOfRun(
      geometry,
      run,
    )
    const { size, across, high } = pattern
    for (let place = places.first; place <= places.last; place++) {
      const left = x0 + k * (runs.cornerX[run] + place * runs.stepM[run])
      const bottom = y0 - k * runs.cornerY[run]
      const [width, height] = [k * size.alongM, k * size.upM]
      if (level === 'tables') {
        fill(palette.tableFar, left, bottom - height, width, height)
        continue
      }
      fill(palette.module, left, bottom - height, width, height)
      for (let a = 1; a < across; a++) {
        fill(palette.seam, left + k * a * size.pitchAlongM, bottom - height, 1, height)
      }
      for (let h = 1; h < high; h++) fill(palette.seam, left, bottom - k * h * size.pitchUpM, width, 1)
      if (!isAtLeast(level, 'members')) continue
      for (const x of crossX) {
        fill(palette.member, left + k * x, bottom - k * crossToY, 2, k * (crossToY - crossFromY))
      }
      for (const y of memberY) fill(palette.member, left, bottom - k * y, width, 2)
      for (let post = pattern.postStart; post < pattern.partCount; post++) {
        fill(palette.post, left + k * pattern.xM[post] - 2, bottom - k * pattern.yM[post] - 2, 4, 4)
      }
      if (level !== 'joints') continue
      for (let j = 0; j < pattern.jointCount; j++) {
        if (jointSort[j] === bodySort || jointSort[j] === soilSort) continue
        fill(palette.joint, left + k * jointX[j] - 2, bottom - k * jointY[j] - 2, 4, 4)
      }
    }
  }
}
