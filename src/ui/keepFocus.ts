import type { Attachment } from 'svelte/attachments'

const stopSelector = 'a[href], button, input, select, textarea, [tabindex="0"]'

/**
 * Keeps the keyboard where it was when what it stood on goes away: the focus moves to what took its place in
 * the order, or to the container, instead of being lost at the start of the page. On a touch screen it goes to no
 * field, for that would raise the keyboard of the device.
 */
export const keepFocus: Attachment<HTMLElement> = (container) => {
  const dialog = container.closest('dialog')
  let held: HTMLElement | null = null
  let place = 0
  const stops = () =>
    [...container.querySelectorAll<HTMLElement>(stopSelector)].filter(
      (stop) => stop.closest('dialog') === dialog && stop.checkVisibility(),
    )
  const hold = ({ target }: FocusEvent) => {
    if (!(target instanceof HTMLElement) || target.closest('dialog') !== dialog) return
    held = target
    place = stops().indexOf(target)
  }
  const letGo = ({ relatedTarget }: FocusEvent) => {
    if (relatedTarget instanceof Node && !container.contains(relatedTarget)) held = null
  }
  const mend = () => {
    if (held === null || held.isConnected) return
    held = null
    const { activeElement } = document
    if (activeElement !== document.body && activeElement !== dialog) return
    const left = stops()
    const next = left.at(Math.min(Math.max(place, 0), left.length - 1))
    const isField = next !== undefined && !next.matches('a, button')
    const mayGo = next !== undefined && !(isField && matchMedia('(pointer: coarse)').matches)
    const goal = mayGo ? next : container
    goal.focus({ preventScroll: true })
  }
  const observer = new MutationObserver(mend)
  observer.observe(container, { childList: true, subtree: true })
  container.addEventListener('focusin', hold)
  container.addEventListener('focusout', letGo)
  return () => {
    observer.disconnect()
    container.removeEventListener('focusin', hold)
    container.removeEventListener('focusout', letGo)
  }
}
