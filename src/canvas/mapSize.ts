/** Size of the map's element in CSS pixels, and device pixels per CSS pixel. */
export interface MapSize {
  readonly widthPx: number
  readonly heightPx: number
  readonly dpr: number
}

/**
 * Watches an element for another size or another density of the screen (a browser zoom, a move to another
 * display). Returns what ends it. `onresize` is called once at the beginning.
 */
export function watchSize(element: HTMLElement, onresize: (size: MapSize) => void): () => void {
  const watching = new AbortController()
  const report = () =>
    onresize({ widthPx: element.clientWidth, heightPx: element.clientHeight, dpr: window.devicePixelRatio })
  const watchDensity = () => {
    // The query holds for one density only: after a change there has to be another.
    const query = matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`)
    query.addEventListener(
      'change',
      () => {
        report()
        watchDensity()
      },
      { once: true, signal: watching.signal },
    )
  }
  const observer = new ResizeObserver(report)
  observer.observe(element)
  watchDensity()
  report()
  return () => {
    observer.disconnect()
    watching.abort()
  }
}
