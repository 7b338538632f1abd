import { addAisle, addObstacle } from '../../model/edits/surroundings.ts'
import type { DrawContext, DrawDone } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import type { PathPoint, PathRules } from './pathMachine.ts'
import { pathTool } from './pathTool.ts'

const aisle: PathRules = { least: 2, most: null, closes: false, lands: false }
const obstacle: PathRules = { least: 3, most: null, closes: true, lands: false }

/** An aisle as the way that is walked, an obstacle as its outline. */
export const groundTool = pathTool(({ making }) => (making.ground === 'aisle' ? aisle : obstacle), drawn)

function drawn(points: readonly PathPoint[], { drawing, making }: DrawContext): DrawDone {
  const pathM = points.map(({ atM }) => atM)
  const sort = making.ground
  const name = nextLabel(drawing.obstacles.map((obstacle) => obstacle.name))
  const edit = sort === 'aisle' ? addAisle({ pathM }) : addObstacle({ name, outlineM: pathM })
  return { kind: 'edit', edit, what: { deed: 'drawItem', sort }, choose: 'added' }
}
