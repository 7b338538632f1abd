import type { Attachment } from 'svelte/attachments'

/** Draws into a canvas, and again once its size changes: one that is folded away has none and stays empty. */
export function drawAtSize(draw: (canvas: HTMLCanvasElement) => void): Attachment<HTMLCanvasElement> {
  return (canvas) => {
    draw(canvas)
    const observer = new ResizeObserver(() => draw(canvas))
    observer.observe(canvas)
    return () => observer.disconnect()
  }
}
