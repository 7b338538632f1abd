import type { Attachment } from 'svelte/attachments'
import { placeBeside } from './placeBeside.ts'

/**
 * Puts a `popover` beside the button that opens it, and closes it when the page scrolls or changes its size
 * under it. The popup stays unseen until it has its place.
 */
export function popup(anchor: () => HTMLElement | undefined, onopen?: () => void): Attachment<HTMLElement> {
  return (element) => {
    element.style.visibility = 'hidden'
    const close = (event: Event) => {
      if (!(event.target instanceof Node && element.contains(event.target))) element.hidePopover()
    }
    const toggle = (event: Event) => {
      const isOpen = (event as ToggleEvent).newState === 'open'
      if (!isOpen) {
        stopWatching()
        element.style.visibility = 'hidden'
        return
      }
      const from = anchor()
      if (!from) return
      const screen = { width: document.documentElement.clientWidth, height: window.innerHeight }
      const { left, top } = placeBeside(from.getBoundingClientRect(), element.getBoundingClientRect(), screen)
      Object.assign(element.style, { left: `${left}px`, top: `${top}px`, visibility: 'visible' })
      window.addEventListener('scroll', close, { capture: true })
      window.addEventListener('resize', close)
      onopen?.()
    }
    const stopWatching = () => {
      window.removeEventListener('scroll', close, { capture: true })
      window.removeEventListener('resize', close)
    }
    element.addEventListener('toggle', toggle)
    return () => {
      stopWatching()
      element.removeEventListener('toggle', toggle)
    }
  }
}
