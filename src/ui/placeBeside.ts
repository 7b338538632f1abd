const gapPx = 6
const rimPx = 8

interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

interface Size {
  readonly width: number
  readonly height: number
}

/** Where a popup of a size stands: below its button or above it where there is more room, never off the screen. */
export function placeBeside(anchor: Box, popup: Size, screen: Size): { left: number; top: number } {
  const roomBelow = screen.height - anchor.bottom - gapPx
  const isBelow = roomBelow >= popup.height + rimPx || roomBelow >= anchor.top
  const wantedTop = isBelow ? anchor.bottom + gapPx : anchor.top - gapPx - popup.height
  const isLeftHalf = anchor.left + anchor.right <= screen.width
  const wantedLeft = isLeftHalf ? anchor.left : anchor.right - popup.width
  return {
    left: within(wantedLeft, screen.width - popup.width - rimPx),
    top: within(wantedTop, screen.height - popup.height - rimPx),
  }
}

function within(wanted: number, most: number): number {
  return Math.max(rimPx, Math.min(wanted, most))
}
