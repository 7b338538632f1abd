/** Where a map is looked at from at the start, and how the view goes on from frame to frame. */
export interface Journey {
  readonly name: string
  /** Pixels per metre at the start; `fit` for the whole site. */
  readonly from: number | 'fit'
  readonly to: number | null
}

const panPx = { x: -5, y: 3 }

export const journeys: readonly Journey[] = [
  { name: 'pan, whole site', from: 'fit', to: null },
  { name: 'pan, modules (3 px/m)', from: 3, to: null },
  { name: 'pan, joints (30 px/m)', from: 30, to: null },
  { name: 'zoom, whole site to joints', from: 'fit', to: 30 },
]

/** What a frame does to the view: a step of a pan that comes back, or a factor about the middle. */
export function stepOf(
  { to }: Journey,
  frame: number,
  frames: number,
  fromPxPerM: number,
): { readonly dx: number; readonly dy: number; readonly factor: number } {
  if (to === null) {
    const sign = frame % frames < frames / 2 ? 1 : -1
    return { dx: sign * panPx.x, dy: sign * panPx.y, factor: 1 }
  }
  return { dx: 0, dy: 0, factor: (to / fromPxPerM) ** (1 / frames) }
}
