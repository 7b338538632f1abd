import type { PointM } from '../model/schema/primitives.ts'

/**
 * A pair in the making. `pressed`: the pointer is down on a part and has not moved away; `dragging`: a line
 * follows the pointer. The first end of a pair made by two taps is not kept here but comes with each event.
 */
export type LinkState =
  | { readonly phase: 'idle' }
  | { readonly phase: 'pressed'; readonly from: number; readonly at: PointM }
  | {
      readonly phase: 'dragging'
      readonly from: number
      readonly at: PointM
      /** Part under the pointer that the pair would end at; −1 where there is none. */
      readonly over: number
    }

/** `part` is the part under the pointer, −1 where there is none. */
export type LinkEvent =
  | { readonly kind: 'press'; readonly at: PointM; readonly part: number }
  | { readonly kind: 'move'; readonly at: PointM; readonly part: number; readonly hasLeft: boolean }
  | {
      readonly kind: 'release'
      readonly part: number
      readonly isInside: boolean
      /** First end chosen by an earlier tap; −1 where none was. */
      readonly waiting: number
    }
  | { readonly kind: 'cancel' }

export type LinkDone =
  | { readonly kind: 'begun'; readonly from: number }
  | { readonly kind: 'linked'; readonly from: number; readonly to: number }

export interface LinkStep {
  readonly state: LinkState
  readonly done: LinkDone | null
}

export const idleLink: LinkState = { phase: 'idle' }

/**
 * A drag from one part to another links them. A press and release on one part without a drag is an end by
 * tap: the first, or the second where one waits. Everything else, and a cancel, ends in nothing.
 */
export function linkStep(state: LinkState, event: LinkEvent): LinkStep {
  switch (event.kind) {
    case 'press':
      if (state.phase !== 'idle' || event.part < 0) return { state: idleLink, done: null }
      return { state: { phase: 'pressed', from: event.part, at: event.at }, done: null }
    case 'move':
      return { state: moved(state, event), done: null }
    case 'release':
      return { state: idleLink, done: event.isInside ? released(state, event.part, event.waiting) : null }
    case 'cancel':
      return { state: idleLink, done: null }
  }
}

function moved(state: LinkState, event: Extract<LinkEvent, { kind: 'move' }>): LinkState {
  if (state.phase === 'idle' || (state.phase === 'pressed' && !event.hasLeft)) return state
  const over = event.part === state.from ? -1 : event.part
  return { phase: 'dragging', from: state.from, at: event.at, over }
}

function released(state: LinkState, part: number, waiting: number): LinkDone | null {
  switch (state.phase) {
    case 'idle':
      return null
    case 'pressed':
      return waiting >= 0 && waiting !== state.from
        ? { kind: 'linked', from: waiting, to: state.from }
        : { kind: 'begun', from: state.from }
    case 'dragging':
      return part >= 0 && part !== state.from ? { kind: 'linked', from: state.from, to: part } : null
  }
}
