import axe from 'axe-core'
import { cdp } from 'vitest/browser'

export const themes = ['light', 'dark', 'sunlight'] as const

export function wear(theme: (typeof themes)[number] | 'system'): void {
  document.documentElement.dataset.theme = theme
  document.documentElement.lang = 'en'
}

/** What axe finds, as `rule: markup`; empty when it finds nothing. */
export async function breaches(): Promise<string[]> {
  // a colour on its way from one theme to the next is nobody's colour
  for (const moving of document.getAnimations()) if (moving instanceof CSSTransition) moving.finish()
  const { violations } = await axe.run(document.body)
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)
}

/** What can be worked and is smaller than a finger needs, as `name width × height`. */
export function tooSmallForTouch(within: ParentNode, leastPx = 44): string[] {
  const worked = within.querySelectorAll<HTMLElement>(
    'button, select, input, textarea, [role="slider"], [role="option"], [role="tab"], [role^="menuitem"]',
  )
  return [...worked]
    .filter((element) => element.checkVisibility({ visibilityProperty: true }))
    .map((element) => ({ element, box: element.getBoundingClientRect() }))
    .filter(({ box }) => box.width < leastPx - 0.01 || box.height < leastPx - 0.01)
    .map(({ element, box }) => `${element.ariaLabel ?? element.textContent} ${box.width} × ${box.height}`)
}

/** What the session with the browser understands; the driver's own types leave it open. */
interface BrowserSession {
  send(method: string, parameters: unknown): Promise<unknown>
}

/** Has the device prefer something, for instance dark colours; an empty list takes it back. */
export async function prefer(features: readonly { name: string; value: string }[]): Promise<void> {
  await (cdp() as unknown as BrowserSession).send('Emulation.setEmulatedMedia', { features })
}
