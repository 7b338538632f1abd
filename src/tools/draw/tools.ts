import type { DrawHelp } from '../../model/drawHelp.ts'
import { copyItems } from '../../model/edits/copyItems.ts'
import { moveItems, turnItems } from '../../model/edits/moveItems.ts'
import { blockTool } from './blockTool.ts'
import { conductorTool } from './conductorTool.ts'
import { distanceTool } from './distanceTool.ts'
import type { DrawTool, DrawToolName, Making } from './drawTool.ts'
import { electrodeTool } from './electrodeTool.ts'
import { equipmentTool } from './equipmentTool.ts'
import { groundTool } from './groundTool.ts'
import { jointTool } from './jointTool.ts'
import { pullRow } from './pullRow.ts'
import { rowTool } from './rowTool.ts'
import { selectTool } from './selectTool.ts'

/** A tool whose state nobody looks into. */
function sealed<S>(tool: DrawTool<S>): DrawTool<unknown> {
  return tool as DrawTool<unknown>
}

const tools: Readonly<Record<DrawToolName, DrawTool<unknown>>> = {
  select: sealed(selectTool({ moveItems, turnItems, pullRow })),
  row: sealed(rowTool),
  block: sealed(blockTool(copyItems)),
  equipment: sealed(equipmentTool),
  electrode: sealed(electrodeTool),
  conductor: sealed(conductorTool),
  ground: sealed(groundTool),
  joint: sealed(jointTool),
  distance: sealed(distanceTool),
}

/** The same object for a name at all times; its state is for itself alone. */
export function toolOf(name: DrawToolName): DrawTool<unknown> {
  return tools[name]
}

const onPath: readonly DrawHelp[] = ['legByDrag', 'endAtLastPoint', 'backOnePoint']
const always: readonly DrawHelp[] = ['straightWithShift', 'freeWithAlt', 'giveUpWithEscape']

/** What the hand can do with a tool as it is set now, the usual way first. */
export function helpOf(name: DrawToolName, making: Making): readonly DrawHelp[] {
  switch (name) {
    case 'select':
      return [
        'chooseByTap',
        'lookIntoChosen',
        'chooseMoreWithShift',
        'chooseByBox',
        'dragChosen',
        'turnByHandle',
        'pullRowEnd',
        'dragPathPoint',
        ...always,
      ]
    case 'row':
      return ['rowByDrag', 'rowByTwoTaps', 'rowByTapAndFinish', ...always]
    case 'block':
      return ['firstCopyByDrag', 'moreCopies', 'freeWithAlt', 'giveUpWithEscape']
    case 'equipment':
      return making.equipment === 'enclosure'
        ? ['placeByTap', 'sizeByDrag', 'freeWithAlt']
        : ['placeByTap', 'freeWithAlt']
    case 'electrode':
      return pathHelp(making.electrode === 'rod' || making.electrode === 'plate', making.electrode === 'ring')
    case 'conductor':
      return ['landByTap', ...pathHelp(false, making.conductor.closed)]
    case 'ground':
      return pathHelp(false, making.ground === 'obstacle')
    case 'joint':
      return ['joinByTwoTaps', 'joinByDrag', 'giveUpWithEscape']
    case 'distance':
      return ['pointByTap', 'legsAddUp', ...onPath, ...always]
  }
}

function pathHelp(isOnePoint: boolean, isClosed: boolean): readonly DrawHelp[] {
  if (isOnePoint) return ['placeByTap', 'freeWithAlt']
  return ['pointByTap', ...(isClosed ? (['closeAtFirstPoint'] as const) : []), ...onPath, ...always]
}
