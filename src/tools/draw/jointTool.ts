import { addExtraJoint } from '../../model/edits/extraJoints.ts'
import type { DrawContext, DrawEvent, DrawPoint, DrawStep, DrawTool, PartHere } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import { previewOf, refusing, showing } from './preview.ts'

/** `begun`: one part is chosen, the other is awaited. */
export type JointState = { readonly phase: 'idle' } | { readonly phase: 'begun'; readonly from: PartHere }

const idle: JointState = { phase: 'idle' }

/** A metal path or jumper from part to part, by two taps or a drag. */
export const jointTool: DrawTool<JointState> = {
  idle,
  owns: (_, { part }) => part !== null,
  step,
}

function step(state: JointState, event: DrawEvent, context: DrawContext): DrawStep<JointState> {
  switch (event.kind) {
    case 'cancel':
    case 'back':
      return showing(idle, null)
    case 'leave':
    case 'finish':
      return shown(state, null)
    case 'hover':
      return shown(state, event.at)
    case 'tap': {
      const { part } = event.at
      if (!part) return { ...refusing(state, 'noPart') }
      return state.phase === 'idle'
        ? shown({ phase: 'begun', from: part }, null)
        : joined(state.from, part, context)
    }
    case 'drag':
      return shown(begunAt(state, event.from), event.at, state)
    case 'drop': {
      const begun = begunAt(state, event.from)
      const { part } = event.at
      if (begun.phase === 'idle' || !part) return refusing(state, 'noPart')
      return joined(begun.from, part, context)
    }
  }
}

/** A drag begins at its own part, whatever was tapped before. */
function begunAt(state: JointState, { part }: DrawPoint): JointState {
  return part ? { phase: 'begun', from: part } : state
}

function joined(from: PartHere, to: PartHere, { drawing, making }: DrawContext): DrawStep<JointState> {
  if (from.address === to.address) return refusing({ phase: 'begun', from }, 'samePart')
  const edit = addExtraJoint({
    label: nextLabel(drawing.extraJoints.map(({ label }) => label)),
    from: from.address,
    to: to.address,
    kind: making.extraJointKind,
    medianOhm: null,
  })
  return {
    state: idle,
    preview: null,
    done: { kind: 'edit', edit, what: { deed: 'drawExtraJoint' }, choose: 'same' },
  }
}

/** The line from the first part to the pointer, or to the part there. */
function shown(state: JointState, at: DrawPoint | null, after = state): DrawStep<JointState> {
  const part = at?.part ?? null
  const told = part && ({ fact: 'land', part: part.address } as const)
  const snapped = part?.atM ?? null
  if (state.phase === 'idle') return showing(after, at && previewOf({ snapped, told }))
  const { atM } = state.from
  const to = part?.atM ?? at?.atM
  return showing(after, previewOf({ points: [atM], lines: to ? [[atM, to]] : [], snapped, told }))
}
