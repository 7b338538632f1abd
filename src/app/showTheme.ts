import type { Theme } from '../state/preferences.svelte.ts'

/** The theme that is in force: `system` leaves it to the device. */
export function themeInForce(theme: Theme, prefersDark: boolean): Exclude<Theme, 'system'> {
  if (theme !== 'system') return theme
  return prefersDark ? 'dark' : 'light'
}

/** Hands the choice to theme.css, and the colour of the ground to the frame that the device draws round the page. */
export function showTheme(theme: Theme, page: Document = document): void {
  page.documentElement.dataset.theme = theme
  const ground = getComputedStyle(page.body).backgroundColor
  for (const meta of page.querySelectorAll('meta[name="theme-color"]')) meta.setAttribute('content', ground)
}
