import type { Attachment } from 'svelte/attachments'

/**
 * Draws into a canvas in the next frame, and again once its size changes: one that is folded away has none and stays
 * empty. The observer tells the first size too, when the page has been laid out: to ask for it before would lay it out
 * once more.
 */
export function drawAtSize(draw: (canvas: HTMLCanvasElement) => void): Attachment<HTMLCanvasElement> {
  return (canvas) => {
    const observer = new ResizeObserver(() => draw(canvas))
    observer.observe(canvas)
    return () => observer.disconnect()
  }
}
