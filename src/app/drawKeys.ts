import { drawToolNames } from '../tools/draw/drawTool.ts'
import type { DrawActions } from '../panels/draw/drawActions.ts'
import type { DrawDesk } from '../state/drawDesk.svelte.ts'

const arrows: Readonly<Record<string, readonly [east: number, north: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

/** How far an arrow moves while nothing snaps, in metres. */
const freeStepM = 0.01

type Key = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'>

/**
 * What a key does while the array is drawn, wherever on the page it is pressed but in a field. False where it does
 * nothing here. Arrows move what is chosen; with nothing chosen they are the map's.
 */
export function drawKey(event: Key, desk: DrawDesk, actions: DrawActions): boolean {
  if (event.altKey) return false
  if (event.ctrlKey || event.metaKey)
    return commandKey(event.key.toLowerCase(), event.shiftKey, desk, actions)
  const arrow = arrows[event.key]
  if (arrow) {
    if (desk.tool !== 'select' || desk.chosen.length === 0) return false
    const stepM = (desk.gridM > 0 ? desk.gridM : freeStepM) * (event.shiftKey ? 10 : 1)
    return actions.nudge({ x: arrow[0] * stepM, y: arrow[1] * stepM })
  }
  switch (event.key) {
    case 'Enter':
      return stepped(desk, 'finish')
    case 'Escape':
      return desk.isBusy ? stepped(desk, 'cancel') : letGo(desk)
    case 'Backspace':
      return desk.isBusy ? stepped(desk, 'back') : actions.remove()
    case 'Delete':
      return actions.remove()
    case 'PageDown':
      return actions.showNext(1)
    case 'PageUp':
      return actions.showNext(-1)
    case '?':
      return actions.help()
  }
  const tool = drawToolNames[Number(event.key) - 1]
  if (event.key < '1' || event.key > '9' || !tool) return false
  desk.take(tool)
  return true
}

function commandKey(key: string, isShift: boolean, desk: DrawDesk, actions: DrawActions): boolean {
  switch (key) {
    case 'a':
      desk.take('select')
      desk.chooseAll()
      return true
    case 'c':
      return actions.copy()
    case 'x':
      return actions.copy() && actions.remove()
    case 'v':
      return actions.paste()
    case 'z':
      // what is under way is not a step yet
      return !isShift && desk.isWaiting && stepped(desk, 'back')
  }
  return false
}

function stepped(desk: DrawDesk, kind: 'finish' | 'back' | 'cancel'): boolean {
  if (!desk.isBusy) return false
  desk.step({ kind })
  return true
}

function letGo(desk: DrawDesk): boolean {
  if (desk.tool !== 'select') {
    desk.take('select')
    return true
  }
  if (desk.chosen.length === 0) return false
  desk.choose([])
  return true
}
