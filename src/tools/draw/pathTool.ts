import type { DrawContext, DrawDone, DrawTool } from './drawTool.ts'
import type { PathPoint, PathRules, PathState } from './pathMachine.ts'
import { idlePath, movePath, ownsPathDrag } from './pathMachine.ts'

/** A tool that draws point by point, from its rules and from what it makes of a path that has ended. */
export function pathTool(
  rulesOf: (context: DrawContext) => PathRules,
  doneWith: (points: readonly PathPoint[], context: DrawContext) => DrawDone,
): DrawTool<PathState> {
  return {
    idle: idlePath,
    owns: (state, at, context) => ownsPathDrag(state, at, rulesOf(context)),
    step: (state, event, context) => {
      const { state: next, preview, ended } = movePath(state, event, context, rulesOf(context))
      return { state: next, preview, done: ended && doneWith(ended, context) }
    },
  }
}
