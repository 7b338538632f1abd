import type { LineLook } from '../state/readingLook.ts'

/**
 * Draws a reading's look into a small canvas, with the same strokes as the map. It sets the canvas's own
 * resolution; the size in CSS pixels is the canvas's. Another function is another theme, and draws anew.
 */
export type DrawLook = (look: LineLook, canvas: HTMLCanvasElement) => void
