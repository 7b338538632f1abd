import { tick } from 'svelte'

/** Brings the head of something to the upper edge of what scrolls around it. */
export function toHead(element: HTMLElement | undefined): void {
  element?.scrollIntoView({ block: 'start' })
}

/** The same once what is being opened or closed stands on the page. */
export async function toHeadSoon(element: HTMLElement | undefined): Promise<void> {
  await tick()
  toHead(element)
}
